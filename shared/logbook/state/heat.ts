import { heatPlan } from '../../calculations/heat-plan.ts';
import { heatPlanInput } from '../../plan/heat-plan-hours.ts';
import type { HeatPlan } from '../../plan/schema.ts';
import type { Heat } from './rounds.ts';

const HOUR_MS = 3_600_000;

/** What a heat plan wants at an instant. */
export interface Planned {
  /** Elapsed hours from the start of the heat, held to the plan's own length. */
  readonly hour: number;
  readonly planned_C: number;
  /** Rising is positive; 0 in a soak. */
  readonly rate_K_h: number;
  /** Counted from 1. */
  readonly segment: number;
  readonly band_K: number;
  readonly spread_K: number;
  readonly to_C: number;
  readonly soak: boolean;
  /** Elapsed hours at which the segment began and ends. */
  readonly from_h: number;
  readonly until_h: number;
}

/** Hours at which the segments of a heat plan end. */
export const segmentEnds = (plan: HeatPlan): number[] => {
  let from_C = plan.start_C;
  let end_h = 0;
  return plan.segments.map(({ to_C, soak_h, rate_K_h }) => {
    end_h += soak_h ?? Math.abs(to_C - from_C) / rate_K_h!;
    from_C = to_C;
    return end_h;
  });
};

/** Elapsed hours of a heat at an instant; before its start and after its plan's end held to the ends. */
export const hourAt = (heat: Pick<Heat, 'start_ms' | 'planEnds_ms'>, at_ms: number): number =>
  Math.max(0, Math.min(at_ms, heat.planEnds_ms) - heat.start_ms) / HOUR_MS;

/** Planned temperatures and rates at hours of a heat plan, by the calculation `heat-plan`. */
export function plannedAtHours(plan: HeatPlan, hours: readonly number[]): Planned[] {
  const ends = segmentEnds(plan);
  const last = ends.at(-1)!;
  const { points } = heatPlan.compute(
    heatPlanInput(
      plan,
      hours.map((h) => Math.min(Math.max(0, h), last)),
    ),
  );
  return points.map(({ at_h, planned_C, rate_K_h, segment }) => {
    const { band_K, spread_K, to_C, soak_h } = plan.segments[segment]!;
    return {
      hour: at_h,
      planned_C,
      rate_K_h,
      segment: segment + 1,
      band_K,
      spread_K,
      to_C,
      soak: soak_h !== undefined,
      from_h: segment === 0 ? 0 : ends[segment - 1]!,
      until_h: ends[segment]!,
    };
  });
}

/** What the plan of a heat wants at an instant. */
export const plannedAt = (heat: Heat, at_ms: number): Planned => plannedAtHours(heat.plan, [hourAt(heat, at_ms)])[0]!;

/** How a segment is said: `soak at 120 °C`, `to 600 °C at 20 K/h`. */
export function segmentWords(plan: HeatPlan, segment: number): string {
  const { to_C, rate_K_h, soak_h } = plan.segments[segment - 1]!;
  return soak_h === undefined ? `to ${to_C} °C at ${rate_K_h} K/h` : `soak ${soak_h} h at ${to_C} °C`;
}
