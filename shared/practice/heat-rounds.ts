import { heatPlan } from '../calculations/heat-plan.ts';
import { dueRounds } from '../logbook/state/rounds.ts';
import { heatPlanInput } from '../plan/heat-plan-hours.ts';
import { castingRound, type Following } from './casting-channels.ts';
import type { CrewKey } from './crew.ts';
import type { PracticeEvent } from './events.ts';
import type { Site } from './site.ts';
import { HOUR_MS, heatPlanOf, MINUTE_MS } from './timetable.ts';

/** Moments of a heat by its hour, ms since 1970. */
export type HeatClock = (hour: number) => number;

interface Wanted {
  readonly heat: string;
  readonly at: HeatClock;
  /** Rounds due before this hour. */
  readonly until_h: number;
  readonly operation: (hour: number) => string;
  /** The crew is so late at most, minutes. */
  readonly late_min: number;
  /** rpm of the table; left out: it stands. */
  readonly spin?: (hour: number) => number;
  /** How the channels follow the plan; left out: as in the casting. */
  readonly ways?: Following;
  /** Whether a round that is due only in some operations is due. */
  readonly runs?: (operations: readonly string[], hour: number) => boolean;
}

/** Who walks at an hour of the day. */
export const walker = (hour: number): CrewKey =>
  hour < 6 || hour >= 22 ? 'nightLead' : hour < 14 ? 'technician' : 'lateTechnician';

/** The rounds of a heat with the furnace closed, every one walked and in time. */
export function heatRounds(site: Site, wanted: Wanted): PracticeEvent[] {
  const { heat, at, until_h, operation, late_min, spin = () => 0, ways, runs } = wanted;
  const r = site.random(`rounds ${heat}`);
  const plan = heatPlanOf(site.plan, heat);
  return dueRounds(plan, runs)
    .filter((d) => d.at_h < until_h)
    .map(({ at_h, extent }): PracticeEvent => {
      const observedAt = at(at_h) + Math.round(r.between(0, late_min)) * MINUTE_MS;
      const hour = (observedAt - at(0)) / HOUR_MS;
      const moment = { hour, ...heatPlan.compute(heatPlanInput(plan, [hour])).points[0]! };
      const by = walker(Number(site.time.iso(observedAt).slice(11, 13)));
      return site.write({
        tablet: 0,
        at: observedAt + 4 * MINUTE_MS,
        observedAt,
        by,
        kind: 'round',
        body: {
          operation: operation(hour),
          heatPlan: plan.id,
          extent,
          dueAt: site.time.iso(at(at_h)),
          plan: site.planHash,
          readings: castingRound(site.plan, moment, spin(hour), extent, r, ways),
          observer: site.personId(by),
          way: 'keypad',
        },
      });
    });
}

/** The lead marks an operation at a moment; a mark that names a heat says when that begins. */
export const markAt = (
  site: Site,
  operation: string,
  mark: 'started' | 'finished',
  at: number,
  heat?: string,
): PracticeEvent =>
  site.write({
    tablet: 0,
    at,
    by: 'lead',
    kind: 'operation',
    body: { operation, mark, ...(heat ? { heat } : {}) },
  });
