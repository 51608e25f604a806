import { holdState } from '../../../shared/logbook/state/holds.ts';
import { firstWork, mark } from '../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import type { SpineProps, Stage } from '../parts/spine.tsx';

/** The steel rule from the log: what is finished, the gates, and where the work is. */
export function spineOf(view: View): SpineProps {
  const stages = view.plan.stages.map((stage) => stageOf(view, stage.id, stage.name));
  return { stages, now: stageNow(view), href: '/sequence' };
}

function stageOf(view: View, id: string, name: string): Stage {
  const operations = view.plan.operations.filter((o) => o.stage === id);
  const finished = operations.map((o) => mark(view, o.id, 'finished') !== null);
  const done = finished.findIndex((f) => !f);
  const inOrder = done < 0 ? operations.length : done;
  const gates = view.plan.holds.flatMap((hold) => {
    const index = operations.findIndex((o) => o.id === hold.after);
    if (index < 0) return [];
    return [{ at: (index + 1) / operations.length, state: gateState(view, hold.id), name: `${hold.id}, ${hold.name}` }];
  });
  return {
    name,
    operations: operations.length,
    done: inOrder,
    ahead: finished.filter(Boolean).length - inOrder,
    gates,
  };
}

function gateState(view: View, id: string) {
  const hold = view.plan.holds.find((h) => h.id === id)!;
  const { status } = holdState(view, hold);
  const reached = firstWork(view, hold.after) !== null || mark(view, hold.after, 'finished') !== null;
  return status === 'open' && !reached ? ('not-reached' as const) : status;
}

/** The stage of the first operation that is not finished. */
function stageNow(view: View): number | null {
  const next = view.plan.operations.find((o) => mark(view, o.id, 'finished') === null);
  if (!next) return null;
  return view.plan.stages.findIndex((s) => s.id === next.stage);
}
