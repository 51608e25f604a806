import { operationById } from '../../../plan/lookup.ts';
import type { Plan } from '../../../plan/schema.ts';
import { segmentEnds } from '../heat.ts';
import { measureStates } from '../measures.ts';
import { operationStates } from '../next-step.ts';
import { heatOf } from '../rounds.ts';
import { firstWork } from '../sequence.ts';
import type { View } from '../view.ts';

type Moment = NonNullable<Plan['handover']['moments']>[number];

const HOUR_MS = 3_600_000;

/** The moments in which nothing should be handed over and that are now, in the plan's words. */
export const momentsNow = (view: View, now_ms: number): string[] =>
  (view.plan.handover.moments ?? []).filter((m) => isNow(view, m, now_ms)).map((m) => m.words);

function isNow(view: View, { operations = [], measuring, ahead }: Moment, now_ms: number): boolean {
  const underWay = operationStates(view)
    .filter((s) => s.progress === 'under-way')
    .map((s) => s.operation);
  return (
    underWay.some((o) => operations.includes(o.id)) ||
    (measuring !== undefined &&
      underWay.some((o) =>
        measureStates(view, o).some((m) => m.characteristic.id === measuring && m.done > 0 && !m.enough),
      )) ||
    (ahead !== undefined && isAhead(view, ahead, now_ms))
  );
}

/** From so many hours before a segment of a running heat until its operation is begun. */
function isAhead(
  view: View,
  { operation, heatPlan, segment, hours }: NonNullable<Moment['ahead']>,
  now_ms: number,
): boolean {
  const plan = view.plan.heatPlans.find((h) => h.id === heatPlan);
  const heat = plan && heatOf(view, plan);
  if (!heat || heat.ended_ms !== null || !operationById(view.plan, operation) || firstWork(view, operation))
    return false;
  const begins_h = segmentEnds(heat.plan)[segment - 2];
  return begins_h !== undefined && now_ms >= heat.start_ms + (begins_h - hours) * HOUR_MS;
}
