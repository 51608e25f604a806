import { CORES, isOfCores } from '../../plan/core-stations.ts';
import { coresOf, ringOf, stationsByCore } from '../../plan/cores.ts';
import { characteristicById, operationById } from '../../plan/lookup.ts';
import type { Characteristic, Station } from '../../plan/schema.ts';
import { crew } from '../crew.ts';
import type { PracticeEvent } from '../events.ts';
import type { Random } from '../random.ts';
import type { Site } from '../site.ts';
import type { Stage } from '../stages.ts';
import { MINUTE_MS } from '../timetable.ts';
import { goodValue, walkPlan } from '../walk-plan.ts';

/** The story ends when the mould has been looked at for the last time: its hold point waits for signatures. */
const LAST = '7.3';
export const CORES_LAST = { operation: LAST, share: 1.1 };

/** The core that was changed, and the gap beside it that was found too narrow. */
const CHANGED = '3.5';
const NARROW = '3.4-3.5@top';
const NARROW_BY_MM = 1.9;
/** When the core was changed, as a share of the operation that set it. */
const CHANGED_AT = 0.93;

/**
 * From the first tile to the hold point before glass loading, every station read. One gap was outside; its core was
 * changed and measured again. All figures are invented.
 */
export const cores: Stage = (site) => {
  const scatter = scatterOf(site);
  return walkPlan(LAST, {
    value: (c, operation, station, good) =>
      operation === '6.3' && station.id === NARROW ? good - NARROW_BY_MM : good + scatter(c, operation, station),
    besides,
  })(site);
};

/** The wall is a little oval, and the preheat opened it a little; diameters, mm. */
const [OVAL_MM, OPENED_MM] = [0.3, 0.22];

/** How stations differ from their nominals: a top as much before the bake as after it, but for what the level adds. */
function scatterOf(site: Site): (c: Characteristic, operation: string, station: Station) => number {
  const r = site.random('cores');
  const tops = new Map<string, number>();
  const topOf = (address: string): number => {
    const found = tops.get(address) ?? within(r, 0.12, 0.36);
    tops.set(address, found);
    return found;
  };
  const wall = (operation: string, { angle_deg = 0 }: Station) =>
    OVAL_MM * Math.cos((angle_deg * Math.PI) / 90) + (operation === '5.1' ? OPENED_MM : 0) + within(r, 0.04, 0.1);
  return (c, operation, station) => {
    if (c.id === 'tub-diameter-20') return wall(operation, station);
    if (c.id === 'tub-radius') return wall(operation, station) / 2;
    if (c.id === 'core-top-height') return topOf(station.id) + within(r, 0.03, 0.08);
    if (c.id === 'core-gap') return within(r, 0.22, 0.7);
    return c.id === 'core-across-flats' ? within(r, 0.08, 0.25) : 0;
  };
}

/** Never further than `most`. */
const within = (r: Random, sigma: number, most: number): number => Math.max(-most, Math.min(most, sigma * r.normal()));

function besides(site: Site, operation: string): PracticeEvent[] {
  if (operation === '6.3') return [...serials(site), ...looks(site), ...change(site)];
  return operation === '6.4' ? again(site, '6.4', 0.955) : [];
}

/** The first two rings as the scanner read them. */
function serials(site: Site): PracticeEvent[] {
  const start = site.time.at('6.3', 0.02);
  return coresOf(site.plan)
    .filter((core) => core.whole && core.ring <= 2)
    .map((core, i) =>
      site.write({
        tablet: 0,
        at: start + i * MINUTE_MS,
        by: 'technician',
        kind: 'core',
        body: {
          operation: '6.3',
          station: core.address,
          serial: `QL-${String(1001 + i)}`,
          plan: site.planHash,
          observer: site.personId('technician'),
          way: 'gauge',
        },
      }),
    );
}

/** What is answered core by core, a ring at a time: one act for each. */
function looks(site: Site): PracticeEvent[] {
  const whole = coresOf(site.plan).filter((core) => core.whole);
  const rings = [...new Set(whole.map((core) => core.ring))];
  const start = site.time.at('6.3', 0.9);
  return rings.flatMap((ring, i) => {
    const stations = whole.filter((core) => ringOf(core.address) === ring).map((core) => core.address);
    return seen(site, start + i * MINUTE_MS, stations);
  });
}

/** Every item of the sheet that is answered core by core, at some cores. */
const seen = (site: Site, at: number, stations: string[]): PracticeEvent[] =>
  operationById(site.plan, '6.3')!
    .checks.filter((check) => check.stations === CORES)
    .map(({ id }) => {
      const observer = site.personId('technician');
      const body = { operation: '6.3', item: id, answer: 'yes' as const, stations, plan: site.planHash, observer };
      return site.write({ tablet: 0, at, by: 'technician', kind: 'check', body: { ...body, way: 'keypad' } });
    });

function change(site: Site): PracticeEvent[] {
  const at = site.time.at('6.3', CHANGED_AT);
  const body = {
    operation: '6.3',
    station: CHANGED,
    serial: 'QL-2207',
    reason: 'Gap to core 3.4 outside at the top: the core stands skew.',
    plan: site.planHash,
    observer: site.personId('technician'),
    way: 'keypad' as const,
    name: crew.lead.name,
  };
  return [
    site.write({ tablet: 0, at, by: 'lead', kind: 'core-change', body }),
    ...again(site, '6.2', CHANGED_AT + 0.005),
    ...again(site, '6.3', CHANGED_AT + 0.015),
    ...seen(site, site.time.at('6.3', CHANGED_AT + 0.02), [CHANGED]),
  ];
}

/** All that an operation reads at the core that was changed, and in the gaps around it. */
function again(site: Site, operation: string, share: number): PracticeEvent[] {
  const moment = site.time.at(operation === '6.2' ? '6.3' : operation, share);
  return operationById(site.plan, operation)!
    .measures.flatMap((id) => characteristicById(site.plan, id) ?? [])
    .filter((c) => c.kind !== 'derived' && isOfCores(site.plan, c))
    .flatMap((c, i) => {
      const own = new Set((stationsByCore(site.plan, c).get(CHANGED) ?? []).map((s) => s.id));
      return site.pass({
        operation,
        characteristic: c.id,
        at: 0,
        moment: moment + 3 * i * MINUTE_MS,
        every_s: 10,
        stations: (s) => own.has(s.id),
        value: (s) => goodValue(site, c, operation, s),
      });
    });
}
