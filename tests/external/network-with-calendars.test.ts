import { addBusinessDays } from 'date-fns/addBusinessDays';
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { criticalPath } from '../../shared/calculations/critical-path.ts';
import type { Link } from '../../shared/calculations/numeric/plan-network.ts';
import { plannedFrom } from '../../shared/logbook/state/schedule.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { type Activity, scheduleWithCalendars } from '../../shared/plan/network/calendar-network.ts';
import { roundTheClock, ShiftTime, type WorkingTime } from '../../shared/plan/network/working-time.ts';
import { dayOfDate, ZoneDays } from '../../shared/plan/network/zone-days.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import examples from './data/network-examples.json';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

const planned = (id: string, work_ms: number, time: WorkingTime = roundTheClock): Activity => ({
  id,
  work_ms,
  time,
  started_ms: null,
  finished_ms: null,
});

describe('published worked examples of the critical path method', () => {
  // Terms after DIN 69900 (network planning technique): total float and free float ("gesamte" and "freie Pufferzeit").
  test.each(examples)('$name: $source', ({ activities }) => {
    const places = new Map(activities.map((a, k) => [a.id, k]));
    const links = activities.flatMap((a, to) =>
      a.after.map((id): Link => ({ from: places.get(id)!, to, type: 'FS', lag: 0 })),
    );
    const nodes = activities.map((a) => planned(a.id, a.duration * HOUR_MS));
    const { finish_ms, dates } = scheduleWithCalendars(nodes, links, { start_ms: 0, now_ms: null });
    expect(finish_ms).toBe(Math.max(...activities.map((a) => a.ef)) * HOUR_MS);
    const h = (ms: number) => ms / HOUR_MS;
    expect(
      dates.map((d, k) => ({
        id: activities[k]!.id,
        es: h(d.start_ms),
        ef: h(d.finish_ms),
        ls: h(d.lateStart_ms),
        lf: h(d.lateFinish_ms),
        slack: h(d.totalFloat_ms),
        critical: d.critical,
      })),
    ).toEqual(
      activities.map(({ id, es, ef, ls, lf, slack }) => ({ id, es, ef, ls, lf, slack, critical: slack === 0 })),
    );
    // Free float is the earliest start of the next, less lag, less the own earliest finish: US Navy, Engineering Aid
    // training manual (NAVEDTRA 14045), precedence diagrams.
    dates.forEach((d, k) => {
      const next = activities.filter((b) => b.after.includes(activities[k]!.id)).map((b) => b.es);
      const free = (next.length === 0 ? h(finish_ms) : Math.min(...next)) - activities[k]!.ef;
      expect(h(d.freeFloat_ms), activities[k]!.id).toBe(free);
    });
  });
});

describe('calendars', () => {
  const berlin = new ZoneDays('Europe/Berlin');
  const day = new ShiftTime(
    {
      weekdays: [1, 2, 3, 4, 5],
      from_h: 7,
      to_h: 15,
      freeDays: new Set([dayOfDate('2026-04-03'), dayOfDate('2026-04-06')]),
    },
    berlin,
    dayOfDate('2026-01-01'),
  );
  const two = new ShiftTime(
    { weekdays: [1, 2, 3, 4, 5, 6], from_h: 6, to_h: 22, freeDays: new Set() },
    berlin,
    dayOfDate('2026-01-01'),
  );
  const after = (time: WorkingTime, from: string, hours: number): string =>
    new Date(time.finishAt(time.worked(Date.parse(from)) + hours * HOUR_MS)).toISOString();

  // Counted by hand on a calendar of 2026; summer time in Central Europe begins on 29 March (Directive 2000/84/EC).
  test.each([
    ['a day shift of 8 h', day, '2026-03-23T06:00:00.000Z', 8, '2026-03-23T14:00:00.000Z'],
    [
      '20 h from Thursday noon, over the weekend on which summer time begins',
      day,
      '2026-03-26T11:00:00.000Z',
      20,
      '2026-03-31T06:00:00.000Z',
    ],
    ['begun on a Sunday: from Monday on', day, '2026-03-22T10:00:00.000Z', 1, '2026-03-23T07:00:00.000Z'],
    [
      '16 h over Good Friday and Easter Monday as free days',
      day,
      '2026-04-02T05:00:00.000Z',
      16,
      '2026-04-07T13:00:00.000Z',
    ],
    ['two shifts take Saturday and not Sunday', two, '2026-03-27T20:00:00.000Z', 24, '2026-03-30T11:00:00.000Z'],
    ['96 h of two shifts are a week', two, '2026-03-16T05:00:00.000Z', 96, '2026-03-21T21:00:00.000Z'],
    [
      'round the clock an hour is an hour, on that night too',
      roundTheClock,
      '2026-03-28T23:00:00.000Z',
      24,
      '2026-03-29T23:00:00.000Z',
    ],
  ] as const)('%s', (_, time, from, hours, finish) => {
    expect(after(time, from, hours)).toBe(finish);
  });

  it('counts working days as date-fns does', () => {
    const utc = new ShiftTime(
      { weekdays: [1, 2, 3, 4, 5], from_h: 7, to_h: 15, freeDays: new Set() },
      new ZoneDays('UTC'),
      dayOfDate('2025-12-01'),
    );
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 1, max: 250 }), (from, days) => {
        // Whole shifts from the start of the next one: the last of them ends on the working day before the nth.
        const start_ms = utc.startAt(utc.worked(Date.UTC(2026, 0, 1 + from)));
        // date-fns counts in the machine's own days: noon keeps the date in any of its zones.
        const date = new Date(new Date(start_ms).toISOString().slice(0, 10).concat('T12:00'));
        const last = addBusinessDays(date, days - 1);
        const finish = new Date(utc.finishAt(utc.worked(start_ms) + 8 * days * HOUR_MS));
        expect([finish.getUTCFullYear(), finish.getUTCMonth(), finish.getUTCDate(), finish.getUTCHours()]).toEqual([
          last.getFullYear(),
          last.getMonth(),
          last.getDate(),
          15,
        ]);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('keeps the days of zones that change by an hour, by half an hour and by a whole day', () => {
    const hours = (zone: string, date: string) => {
      const days = new ZoneDays(zone);
      return (days.at(dayOfDate(date) + 1, 0) - days.at(dayOfDate(date), 0)) / HOUR_MS;
    };
    // IANA time zone data base: Europe, Australia and Pacific files.
    expect(hours('Europe/Berlin', '2026-03-29')).toBe(23);
    expect(hours('Europe/Berlin', '2026-10-25')).toBe(25);
    expect(hours('Europe/Berlin', '2026-06-01')).toBe(24);
    expect(hours('Australia/Lord_Howe', '2026-04-05')).toBe(24.5);
    expect(hours('Pacific/Apia', '2011-12-30')).toBe(0);
    expect(new Date(new ZoneDays('Asia/Kathmandu').at(dayOfDate('2026-01-01'), 7 * 60)).toISOString()).toBe(
      '2026-01-01T01:15:00.000Z',
    );
  });

  it('turn instants into working time and back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 300 * 24 * 60 }), (minute) => {
        const at = Date.UTC(2026, 0, 5) + minute * 60_000;
        for (const time of [day, two]) {
          const worked = time.worked(at);
          expect(time.worked(time.startAt(worked))).toBe(worked);
          expect(time.worked(time.finishAt(worked))).toBe(worked);
          expect(time.finishAt(worked)).toBeLessThanOrEqual(at);
          expect(time.startAt(worked)).toBeGreaterThanOrEqual(time.finishAt(worked));
          expect(time.startAt(time.lastStartBy(at))).toBeLessThanOrEqual(at);
          expect(time.startAt(time.lastStartBy(at) + 1)).toBeGreaterThan(at);
        }
      }),
      { seed: 2, numRuns: 300 },
    );
  });

  it('are refused when they never work', () => {
    const never = () => new ShiftTime({ weekdays: [], from_h: 7, to_h: 15, freeDays: new Set() }, berlin, 20_000);
    expect(never).toThrow(RangeError);
  });
});

describe('networks with calendars', () => {
  const zone = new ZoneDays('Europe/Berlin');
  const first = dayOfDate('2026-01-01');
  const calendars: WorkingTime[] = [
    roundTheClock,
    new ShiftTime({ weekdays: [1, 2, 3, 4, 5], from_h: 7, to_h: 15, freeDays: new Set() }, zone, first),
    new ShiftTime({ weekdays: [1, 2, 3, 4, 5, 6], from_h: 6, to_h: 22, freeDays: new Set() }, zone, first),
  ];
  const start_ms = zone.at(dayOfDate('2026-03-02'), 0);
  const now_ms = start_ms + 20 * DAY_MS;
  const item = fc.record({
    hours: fc.integer({ min: 1, max: 120 }),
    calendar: fc.integer({ min: 0, max: 2 }),
    /** Hours from the beginning; what is null has not happened. */
    started: fc.option(fc.integer({ min: 0, max: 480 }), { freq: 2 }),
    took: fc.option(fc.integer({ min: 0, max: 200 })),
    links: fc.array(
      fc.record({
        back: fc.integer({ min: 1, max: 5 }),
        type: fc.constantFrom<Link['type']>('FS', 'FS', 'SS', 'FF', 'SF'),
        lag: fc.integer({ min: 0, max: 60 }),
      }),
      { maxLength: 3 },
    ),
  });
  type Item = typeof item extends fc.Arbitrary<infer T> ? T : never;
  const items = fc.array(item, { minLength: 1, maxLength: 18 });
  const linksOf = (list: readonly Item[]): Link[] =>
    list.flatMap((one, to) =>
      one.links.flatMap((l) => (to < l.back ? [] : [{ from: to - l.back, to, type: l.type, lag: l.lag * HOUR_MS }])),
    );
  const activitiesOf = (list: readonly Item[], happened: boolean): Activity[] =>
    list.map((one, k) => {
      const started_ms = happened && one.started !== null ? start_ms + one.started * HOUR_MS : null;
      const ended = started_ms !== null && one.took !== null ? started_ms + one.took * HOUR_MS : null;
      const finished_ms = ended !== null && ended <= now_ms ? ended : null;
      return { ...planned(`a${k}`, one.hours * HOUR_MS, calendars[one.calendar]), started_ms, finished_ms };
    });
  const run = (activities: readonly Activity[], list: readonly Item[], happened: boolean) =>
    scheduleWithCalendars(activities, linksOf(list), { start_ms, now_ms: happened ? now_ms : null });
  const runs = { seed: 3, numRuns: 300 };

  it('round the clock they are what critical-path works out', () => {
    fc.assert(
      fc.property(items, (list) => {
        const clock = list.map((one, k) => planned(`a${k}`, one.hours * HOUR_MS));
        const { finish_ms, dates } = run(clock, list, false);
        const o = criticalPath.compute({
          activities: list.map((one, k) => ({
            id: `a${k}`,
            duration: one.hours,
            after: one.links
              .filter((l) => k >= l.back)
              .map((l) => ({ id: `a${k - l.back}`, type: l.type, lag: l.lag })),
          })),
        });
        expect((finish_ms - start_ms) / HOUR_MS).toBe(o.duration);
        const h = (at: number) => (at - start_ms) / HOUR_MS;
        dates.forEach((d, k) => {
          expect({
            early_start: h(d.start_ms),
            early_finish: h(d.finish_ms),
            late_start: h(d.lateStart_ms),
            late_finish: h(d.lateFinish_ms),
            total_float: d.totalFloat_ms / HOUR_MS,
            free_float: d.freeFloat_ms / HOUR_MS,
          }).toEqual(o.activities[`a${k}`]);
          // A chain that holds the end has no float where there is no waiting for a shift.
          if (d.critical) expect(d.totalFloat_ms).toBe(0);
        });
        expect(dates.some((d) => d.critical)).toBe(true);
      }),
      runs,
    );
  });

  it('a delay never makes anything earlier', () => {
    fc.assert(
      fc.property(items, fc.nat(), fc.integer({ min: 1, max: 300 }), (list, pick, more) => {
        const activities = activitiesOf(list, true);
        const before = run(activities, list, true);
        const k = pick % list.length;
        const a = activities[k]!;
        const slower = activities.with(k, {
          ...a,
          work_ms: a.work_ms + more * HOUR_MS,
          finished_ms: a.finished_ms === null ? null : a.finished_ms + more * HOUR_MS,
        });
        const later = run(slower, list, true);
        expect(later.finish_ms).toBeGreaterThanOrEqual(before.finish_ms);
        later.dates.forEach((d, j) => {
          expect(d.finish_ms, `a${j}`).toBeGreaterThanOrEqual(before.dates[j]!.finish_ms);
        });
      }),
      runs,
    );
  });

  it('nothing left is forecast for the past, no float is negative, free is not more than total', () => {
    fc.assert(
      fc.property(items, (list) => {
        const activities = activitiesOf(list, true);
        const { dates } = run(activities, list, true);
        dates.forEach((d, k) => {
          const { started_ms, finished_ms } = activities[k]!;
          if (finished_ms === null) expect(d.finish_ms).toBeGreaterThanOrEqual(now_ms);
          if (started_ms === null) expect(d.start_ms).toBeGreaterThanOrEqual(now_ms);
          expect(d.freeFloat_ms).toBeGreaterThanOrEqual(0);
          expect(d.totalFloat_ms).toBeGreaterThanOrEqual(d.freeFloat_ms);
          expect(d.lateFinish_ms).toBeGreaterThanOrEqual(d.finish_ms);
        });
      }),
      runs,
    );
  });

  it('the whole float can be used up without moving the end, and an hour more of its own shift moves it', () => {
    fc.assert(
      fc.property(items, fc.nat(), (list, pick) => {
        const activities = activitiesOf(list, false);
        const plain = run(activities, list, false);
        const k = pick % list.length;
        const a = activities[k]!;
        const d = plain.dates[k]!;
        // As a start that is fixed: what follows is worked out anew.
        const begun = (started_ms: number) =>
          scheduleWithCalendars(activities.with(k, { ...a, started_ms }), linksOf(list), { start_ms, now_ms: null });
        expect(begun(d.lateStart_ms).finish_ms).toBe(plain.finish_ms);
        expect(begun(d.lateStart_ms + HOUR_MS * 24 * 8).finish_ms).toBeGreaterThan(plain.finish_ms);
      }),
      runs,
    );
  });
});

describe('the plan of the practice blank with its calendars', () => {
  const plan = buildPlan(practiceDesign);
  // Monday; the clocks change on 29 March, while the glass is in the furnace.
  const { start_ms, finish_ms, dates } = plannedFrom(plan, { dayOne: '2026-01-12', timeZone: 'Europe/Berlin' });

  it('has the longest chain of the network at an even pace, with its hold points', () => {
    const critical = plan.operations.map((o) => o.id).filter((id) => dates.get(id)!.critical);
    const even = criticalPath.compute({
      activities: plan.operations.map((o) => ({
        id: o.id,
        duration: (o.hours * { day: 7 / 40, two: 7 / 96, clock: 1 / 24 }[o.calendar]) as number,
        after: o.after.map((l) => ({ id: l.id, type: l.type, lag: l.lag_h / 24 })),
      })),
    });
    expect(critical).toEqual(plan.operations.map((o) => o.id).filter((id) => even.critical.includes(id)));
    // An even pace spreads weekends over the week: the true calendars end within two weeks of it.
    expect(Math.abs((finish_ms - start_ms) / DAY_MS - even.duration)).toBeLessThan(14);
  });

  it('keeps the shifts, counted by hand for the first weeks', () => {
    const local = (id: string) => {
      const d = dates.get(id)!;
      return [d.start_ms, d.finish_ms].map((ms) => new Date(ms + HOUR_MS).toISOString().slice(0, 16));
    };
    expect(local('1.1')).toEqual(['2026-01-12T07:00', '2026-01-14T15:00']);
    expect(local('1.2')).toEqual(['2026-01-15T07:00', '2026-01-16T15:00']);
    // 80 h of two shifts: 7 h on Friday, 16 h on Saturday, 57 h from Monday 06:00.
    expect(local('2.1')).toEqual(['2026-01-16T15:00', '2026-01-22T15:00']);
    // 48 h after the tiles were begun is Sunday afternoon: the next shift is Monday's.
    expect(local('2.2')).toEqual(['2026-01-19T06:00', '2026-01-24T22:00']);
    expect(local('H01')).toEqual(['2026-01-30T15:00', '2026-01-30T15:00']);
  });

  it('lets the bond cure before the hold point that releases the lift', () => {
    expect(dates.get('H11')!.start_ms - dates.get('12.3')!.finish_ms).toBe(168 * HOUR_MS);
  });
});
