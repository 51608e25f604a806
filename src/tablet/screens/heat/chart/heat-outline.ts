import { plannedAtHours, segmentEnds } from '../../../../../shared/logbook/state/heat.ts';
import type { Heat } from '../../../../../shared/logbook/state/rounds.ts';
import type { PlanCorner } from './planned-on.ts';

const HOUR_MS = 3_600_000;

/** The corners of a heat's plan on the clock; at a join the band of the segment before ends where the next one's begins. */
export function planCorners(heat: Heat): PlanCorner[] {
  const ends = segmentEnds(heat.plan);
  const hours = ends.flatMap((end, i) => [i === 0 ? 0 : ends[i - 1]!, end - 1e-6]);
  return plannedAtHours(heat.plan, hours).map(({ hour, planned_C, band_K }) => ({
    at_ms: heat.start_ms + hour * HOUR_MS,
    planned_C,
    band_K,
  }));
}
