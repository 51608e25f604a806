import { controlFigures } from '../logbook/state/channels.ts';
import { segmentEnds } from '../logbook/state/heat.ts';
import type { Heat } from '../logbook/state/rounds.ts';
import type { View } from '../logbook/state/view.ts';
import type { HeatPlan, Plan } from '../plan/schema.ts';
import { figureOf } from './figure-of.ts';

const HOUR_MS = 3_600_000;

/** Where the furnace stands on its plan, and what follows if the rest runs at the plan's own rates. */
export interface Forecast {
  /** Hours behind the plan; ahead is negative; 0 where the reading cannot tell. */
  readonly behind_h: number;
  /** When the present segment ends. */
  readonly next_ms: number;
  readonly end_ms: number;
  /** How it was worked out, with its numbers. */
  readonly formula: string;
}

/** The forecast from the control mean of the last round; null before the first round. */
export function forecastOf(view: View, heat: Heat, now_ms: number): Forecast | null {
  const last = heat.walked.findLast((r) => Date.parse(r.entry.observedAt) <= now_ms);
  const at_ms = last ? Date.parse(last.entry.observedAt) : 0;
  const control = last && controlFigures(view, heat, last.body.readings, at_ms);
  if (!control) return null;
  const { planned, mean, guard_K } = control;
  const ends = segmentEnds(heat.plan);
  const { behind_h, formula } = behindOf(heat.plan, planned, mean, guard_K);
  const shifted = (hours: number) => Math.max(now_ms, heat.start_ms + (hours + behind_h) * HOUR_MS);
  return { behind_h, formula, next_ms: shifted(planned.until_h), end_ms: shifted(ends.at(-1)!) };
}

type Planned = NonNullable<ReturnType<typeof controlFigures>>['planned'];

function behindOf(plan: HeatPlan, planned: Planned, mean: number, guard_K: number) {
  const off_K = mean - planned.planned_C;
  const onPlan = {
    behind_h: 0,
    formula: `${figureOf(off_K, 1)} K off the plan is inside the guard of ${guard_K.toFixed(1)} K`,
  };
  if (!planned.soak) {
    if (Math.abs(off_K) <= guard_K) return onPlan;
    // What lies beyond this ramp is of another rate: no further back than its start, no further on than its end.
    const reached = planned.hour + off_K / planned.rate_K_h;
    const held = Math.min(planned.until_h, Math.max(planned.from_h, reached));
    return {
      behind_h: planned.hour - held,
      formula: `${planned.hour.toFixed(1)} h − hour ${held.toFixed(1)}, at which the plan has ${mean.toFixed(1)} °C`,
    };
  }
  const before = plan.segments[planned.segment - 2];
  const from_C = planned.segment < 3 ? plan.start_C : plan.segments[planned.segment - 3]!.to_C;
  const approach = before?.rate_K_h === undefined ? 0 : Math.sign(before.to_C - from_C) * before.rate_K_h;
  // Short of the soak's temperature, on the side that the ramp comes from: the soak has not begun.
  const short_K = planned.to_C - mean;
  if (approach === 0 || short_K * approach <= 0 || Math.abs(short_K) <= planned.band_K)
    return { behind_h: 0, formula: `the soak runs by the clock, ${figureOf(off_K, 1)} K off its temperature` };
  return {
    behind_h: planned.hour - planned.from_h + short_K / approach,
    formula: `${(planned.hour - planned.from_h).toFixed(1)} h into a soak that is ${Math.abs(short_K).toFixed(1)} K away, at ${Math.abs(approach)} K/h`,
  };
}

/** When the blank may be opened, as far as heats go. */
export interface Opening {
  readonly at_ms: number;
  readonly days: number;
  /** The operation that opens it. */
  readonly operation: string;
  readonly formula: string;
}

/** Days until opening: the rest of this heat and of those that follow it straight; null for heats that do not lead there. */
export function openingOf({ plan }: View, heat: Heat, forecast: Forecast, now_ms: number): Opening | null {
  const chain = heatsAfter(plan, heat.plan);
  const last = chain.at(-1) ?? heat.plan;
  if (last !== plan.heatPlans.at(-1)) return null;
  const operation = plan.operations.find((o) => o.after.some((a) => a.id === last.operations.at(-1)));
  if (!operation) return null;
  const hours = chain.map((p) => segmentEnds(p).at(-1)!);
  const at_ms = forecast.end_ms + hours.reduce((a, b) => a + b, 0) * HOUR_MS;
  const rest_h = (forecast.end_ms - now_ms) / HOUR_MS;
  return {
    at_ms,
    days: (at_ms - now_ms) / (24 * HOUR_MS),
    operation: operation.id,
    formula: `(${[`${rest_h.toFixed(1)} h left of ${heat.plan.id}`, ...chain.map((p, i) => `${hours[i]!.toFixed(1)} h of ${p.id}`)].join(' + ')}) / 24`,
  };
}

/** The heats whose first operation straight follows this one's, and so on. */
function heatsAfter(plan: Plan, heat: HeatPlan): HeatPlan[] {
  const next = plan.heatPlans.find((p) => {
    const first = plan.operations.find((o) => o.id === p.operations[0]);
    return p !== heat && first?.after.some((a) => heat.operations.includes(a.id)) === true;
  });
  return next ? [next, ...heatsAfter(plan, next)] : [];
}
