import { sha256Hex } from '../../logbook/canonical.ts';
import { heatPlanHours } from '../../plan/heat-plan-hours.ts';
import { annealing } from '../casting-channels.ts';
import type { PracticeEvent } from '../events.ts';
import { heatRounds, markAt } from '../heat-rounds.ts';
import { loggerRecord } from '../logger-record.ts';
import type { Site } from '../site.ts';
import { HOUR_MS, heatPlanOf, MINUTE_MS } from '../timetable.ts';
import { ANNEAL_H, annealed } from './anneal.ts';
import { castingClock, HEAT_H } from './melt.ts';

const HEAT = 'P5';
/** The story ends in the last soak: the furnace is to be opened next. */
const LAST_SHARE = 0.985;
export const COOL_DOWN_LAST = { operation: '11.4', share: LAST_SHARE };

/** Every heat of the casting, the core bake among them, to the end of the cool-down. All figures are invented. */
export function coolDown(site: Site): PracticeEvent[] {
  const until_h = LAST_SHARE * heatPlanHours(heatPlanOf(site.plan, HEAT));
  const at = castingClock(site, HEAT_H + ANNEAL_H + until_h);
  const from = (hour: number) => at(HEAT_H + ANNEAL_H + hour);
  return [
    ...annealed(site, at, ANNEAL_H),
    ...coreBake(site),
    markAt(site, '11.3', 'finished', from(0) - MINUTE_MS),
    markAt(site, '11.4', 'started', from(0), HEAT),
    ...heatRounds(site, { heat: HEAT, at: from, until_h, operation: () => '11.4', late_min: 4, ways: annealing }),
    logged(site, 'P1', site.time.at('4.1', 0), site.time.at('4.1', 1)),
    logged(site, 'P2', site.time.at('7.1', 0), site.time.at('7.1', 1)),
    logged(site, 'P3', at(0), at(HEAT_H)),
    logged(site, 'P4', from(-ANNEAL_H), from(0)),
    logged(site, HEAT, from(0), from(until_h) - TAKEN_AFTER_MS),
  ];
}

const TAKEN_AFTER_MS = 20 * MINUTE_MS;

/** The technician takes in what the logger recorded of a heat, soon after its end. */
function logged(site: Site, heat: string, start_ms: number, end_ms: number): PracticeEvent {
  const record = loggerRecord(site.seed, site.plan, { plan: heatPlanOf(site.plan, heat), start_ms, end_ms });
  site.files.push(record);
  const { name, text, mapping, rows } = record;
  return site.write({
    tablet: 0,
    at: end_ms + TAKEN_AFTER_MS,
    by: 'technician',
    kind: 'logger',
    body: {
      // Its text has no letters beyond ASCII: as many bytes.
      file: { hash: sha256Hex(text), name, bytes: text.length },
      mapping,
      rows,
      taken: rows,
      from: new Date(record.from_ms).toISOString(),
      to: new Date(record.to_ms).toISOString(),
    },
  });
}

/** The rounds of operation 7.1; its marks stand with those of the weeks between. */
function coreBake(site: Site): PracticeEvent[] {
  const start = site.time.at('7.1', 0);
  const at = (hour: number) => start + Math.round(hour * 3600) * 1000;
  const until_h = (site.time.at('7.1', 1) - start) / HOUR_MS;
  return heatRounds(site, { heat: 'P2', at, until_h, operation: () => '7.1', late_min: 3 });
}
