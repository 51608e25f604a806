import { heatPlan } from '../../calculations/heat-plan.ts';
import { dueRounds } from '../../logbook/state/rounds.ts';
import { heatPlanInput } from '../../plan/heat-plan-hours.ts';
import { annealing, castingRound } from '../casting-channels.ts';
import type { PracticeEvent } from '../events.ts';
import type { Site } from '../site.ts';
import { HOUR_MS, heatPlanOf, MINUTE_MS } from '../timetable.ts';
import { type CastingClock, castingClock, castingHeat, FAST_COOL_H, HEAT_H, STOP_H, walker } from './melt.ts';

const HEAT = 'P4';
/** Hours of the anneal that are past: it stands at some 494 °C in the slow range. */
const LAST_H = 471;
const HEAT_PLAN_H = 698;
export const ANNEAL_LAST = { operation: '11.3', share: LAST_H / HEAT_PLAN_H };
const BASELINE_H = 44;

/** The casting heat to its end, and the anneal into the slow range. All figures are invented. */
export function anneal(site: Site): PracticeEvent[] {
  const at = castingClock(site, HEAT_H + LAST_H);
  return [
    ...castingHeat(site, at, HEAT_H),
    ...marks(site, at),
    ...rounds(site, (hour) => at(HEAT_H + hour)),
    ...baseline(site, at(HEAT_H + BASELINE_H)),
  ];
}

function marks(site: Site, at: CastingClock): PracticeEvent[] {
  const mark = (operation: string, kind: 'started' | 'finished', hour: number, heat?: string) =>
    site.write({
      tablet: 0,
      at: at(hour),
      by: 'lead',
      kind: 'operation',
      body: { operation, mark: kind, ...(heat ? { heat } : {}) },
    });
  return [
    mark('10.1', 'finished', FAST_COOL_H - 0.02),
    mark('11.1', 'started', FAST_COOL_H),
    mark('11.2', 'started', STOP_H - 0.5),
    mark('11.2', 'finished', HEAT_H - 0.05),
    mark('11.1', 'finished', HEAT_H - 0.03),
    mark('11.3', 'started', HEAT_H, HEAT),
  ];
}

function rounds(site: Site, at: CastingClock): PracticeEvent[] {
  const r = site.random('rounds P4');
  const plan = heatPlanOf(site.plan, HEAT);
  return dueRounds(plan)
    .filter((d) => d.at_h < LAST_H)
    .map(({ at_h, extent }): PracticeEvent => {
      const observedAt = at(at_h) + Math.round(r.between(0, 4)) * MINUTE_MS;
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
          operation: '11.3',
          heatPlan: plan.id,
          extent,
          dueAt: site.time.iso(at(at_h)),
          plan: site.planHash,
          readings: castingRound(site.plan, moment, 0, extent, r, annealing),
          observer: site.personId(by),
          way: 'keypad',
        },
      });
    });
}

/** What the pairs and the middle showed at the even soak. */
function baseline(site: Site, moment: number): PracticeEvent[] {
  const r = site.random('baseline');
  return site.pass({
    operation: '11.3',
    characteristic: 'hold-baseline',
    at: 0,
    moment,
    every_s: 30,
    value: () => 0.05 * r.normal(),
  });
}
