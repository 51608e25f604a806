import { annealing } from '../casting-channels.ts';
import type { PracticeEvent } from '../events.ts';
import { type HeatClock, heatRounds, markAt } from '../heat-rounds.ts';
import type { Site } from '../site.ts';
import { castingClock, castingHeat, FAST_COOL_H, HEAT_H, STOP_H } from './melt.ts';

const HEAT = 'P4';
/** Hours of the anneal that are past: it stands at some 494 °C in the slow range. */
const LAST_H = 471;
/** Hours of the whole anneal by its plan. */
export const ANNEAL_H = 698;
export const ANNEAL_LAST = { operation: '11.3', share: LAST_H / ANNEAL_H };
const BASELINE_H = 44;

/** The casting heat to its end, and the anneal into the slow range. All figures are invented. */
export const anneal = (site: Site): PracticeEvent[] => annealed(site, castingClock(site, HEAT_H + LAST_H), LAST_H);

/**
 * The casting heat to its end, and so many hours of the anneal.
 * @param at by hours from the start of the casting heat
 */
export function annealed(site: Site, at: HeatClock, until_h: number): PracticeEvent[] {
  const from = (hour: number) => at(HEAT_H + hour);
  return [
    ...castingHeat(site, at, HEAT_H),
    markAt(site, '10.1', 'finished', at(FAST_COOL_H - 0.02)),
    markAt(site, '11.1', 'started', at(FAST_COOL_H)),
    markAt(site, '11.2', 'started', at(STOP_H - 0.5)),
    markAt(site, '11.2', 'finished', from(-0.05)),
    markAt(site, '11.1', 'finished', from(-0.03)),
    markAt(site, '11.3', 'started', from(0), HEAT),
    ...heatRounds(site, { heat: HEAT, at: from, until_h, operation: () => '11.3', late_min: 4, ways: annealing }),
    ...baseline(site, from(BASELINE_H)),
  ];
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
