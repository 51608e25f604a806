import type { PracticeEvent } from '../events.ts';
import { type HeatClock, heatRounds, markAt } from '../heat-rounds.ts';
import type { Site } from '../site.ts';
import { HOUR_MS, MINUTE_MS } from '../timetable.ts';

const HEAT = 'P3';
/** Hours of the casting heat: spin-up begins, the table stands at rate, the melt is watched, the first mark is in sight. */
const SPIN_UP_H = 114;
const AT_RATE_H = 117;
const MELT_H = 120;
const FIRST_MARK_H = 140.25;
/** The soak ends, and the fast cool begins. */
export const FAST_COOL_H = 148.17;
/** Below 600 °C: the table is stopped. */
export const STOP_H = 173.5;
/** The story ends here: three ports have settled, and one still falls. */
const LAST_H = 144.8;
/** Hours of the whole heat by its plan. */
export const HEAT_H = 180;
const QUARTER_MS = 15 * MINUTE_MS;
export const MELT_LAST = { operation: '9.2', share: LAST_H / HEAT_H };
/** The drive hunted for a quarter of an hour. */
const HUNTING_H = 131;
const RATE_RPM = 9.329;
const LOADED_KG = 1779.2;
/** Level at rest, what it falls from the first mark on and how fast, mm and h; the port over the colder zone is late. */
const REST_MM = 408.2;
const FALL_MM = 11.5;
const TIME_H = 0.85;
const LATE_PORT = '300';
const LATE_TIME_H = 2.4;

/** The heat is started at any hour: so that the story ends now, and not some hours ago. */
export function castingClock(site: Site, last_h: number): HeatClock {
  const spare_ms = site.endsAt - (site.time.at('9.2', 0) + last_h * HOUR_MS);
  const start = site.time.at('9.2', 0) + Math.floor(spare_ms / QUARTER_MS) * QUARTER_MS;
  return (hour) => start + Math.round(hour * 3600) * 1000;
}

/** Operations 5.1 to 9.1 marked as done, and the casting heat up to the melt watch. All figures are invented. */
export const melt = (site: Site): PracticeEvent[] => castingHeat(site, castingClock(site, LAST_H), LAST_H);

/** The casting heat up to an hour, after the marks of what lies before it. */
export function castingHeat(site: Site, at: HeatClock, last_h: number): PracticeEvent[] {
  return [
    ...weeksBetween(site),
    ...marks(site, at),
    ...rounds(site, at, last_h),
    ...rates(site, at),
    ...levels(site, at),
  ];
}

/** What the story leaves out: nothing but its marks, and the mass that was loaded. */
function weeksBetween(site: Site): PracticeEvent[] {
  const ids = site.plan.operations.map((o) => o.id);
  const between = ids.slice(ids.indexOf('5.1') + 1, ids.indexOf('9.2'));
  return [
    site.mark('5.1', 'finished'),
    ...between.flatMap((id) => [
      site.mark(id, 'started', 'lead', 'Left out of the practice casting.'),
      site.mark(id, 'finished'),
    ]),
    ...site.pass({ operation: '8.2', characteristic: 'mass-loaded', at: 0.97, value: () => LOADED_KG }),
  ];
}

function marks(site: Site, at: HeatClock): PracticeEvent[] {
  const mark = (operation: string, kind: 'started' | 'finished', hour: number, heat?: string) =>
    markAt(site, operation, kind, at(hour), heat);
  return [
    mark('9.2', 'started', 0, HEAT),
    mark('9.2', 'finished', SPIN_UP_H),
    mark('9.3', 'started', SPIN_UP_H + 0.02),
    mark('9.3', 'finished', MELT_H - 0.02),
    mark('10.1', 'started', MELT_H),
  ];
}

const operationAt = (hour: number): string =>
  hour < SPIN_UP_H ? '9.2' : hour < MELT_H ? '9.3' : hour < FAST_COOL_H ? '10.1' : '11.1';

/** rpm of the table: brought up in steps of 2 rpm before the glass can flow. */
const spinAt = (hour: number): number =>
  hour < SPIN_UP_H + 0.5 || hour > STOP_H
    ? 0
    : hour < AT_RATE_H
      ? Math.min(8, 2 * Math.floor(2 * (hour - SPIN_UP_H)))
      : RATE_RPM;

const rounds = (site: Site, at: HeatClock, until_h: number): PracticeEvent[] =>
  heatRounds(site, {
    heat: HEAT,
    at,
    until_h,
    operation: operationAt,
    late_min: 3,
    spin: spinAt,
    runs: (_, hour) => hour >= SPIN_UP_H && hour < MELT_H,
  });

/** The rate timed over 100 turns each hour; once the drive hunted, and a quarter of an hour later it did no more. */
function rates(site: Site, at: HeatClock): PracticeEvent[] {
  const r = site.random('rates');
  const hours = Array.from({ length: Math.floor(LAST_H) - MELT_H }, (_, k) => MELT_H + 1 + k);
  const timed = (hour: number, value: number) =>
    site.pass({ operation: '10.1', characteristic: 'spin-rate', at: 0, moment: at(hour + 0.15), value: () => value });
  return [
    ...hours.flatMap((hour) => timed(hour, hour === HUNTING_H ? 9.3452 : RATE_RPM + 0.0008 * r.normal())),
    ...timed(HUNTING_H + 0.25, RATE_RPM),
  ];
}

/** The marks every quarter of an hour, one port after the other. */
function levels(site: Site, at: HeatClock): PracticeEvent[] {
  const r = site.random('levels');
  const passes = Array.from({ length: Math.floor((LAST_H - FIRST_MARK_H) / 0.25) }, (_, k) => FIRST_MARK_H + 0.25 * k);
  return passes.flatMap((hour) =>
    site.pass({
      operation: '10.1',
      characteristic: 'melt-level',
      at: 0,
      moment: at(hour),
      every_s: 40,
      unlimited: true,
      value: (station) => {
        const time_h = station.id === LATE_PORT ? LATE_TIME_H : TIME_H;
        return REST_MM + FALL_MM * Math.exp(-(hour - FIRST_MARK_H) / time_h) + 0.12 * r.normal();
      },
    }),
  );
}
