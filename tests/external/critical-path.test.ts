import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { criticalPath } from '../../shared/calculations/critical-path.ts';
import { scheduleAt } from '../../shared/logbook/state/schedule.ts';
import { type Plan, planSchema } from '../../shared/plan/schema.ts';
import { smallPlan } from '../logbook/small-plan.ts';
import { lead, type TestTablet, tablets } from '../logbook/world.ts';
import table from './data/critical-path.json';
import sequence from './data/practice-plan-sequence.json';
import { errorOf, expectRelative, publishedData, resultOf, workingOf } from './outside-checks.ts';
import { type Activity, holds, type LinkType, relax } from './relaxed-network.ts';

interface Network {
  id: string;
  inputs: { activities: { id: string; duration: number }[] };
  expected: {
    duration: number;
    /** All of them, where the source names them. */
    critical?: string[];
    activities?: Record<string, Record<string, number>>;
  };
  source: string;
}
const networks = table as unknown as Network[];

/** Random networks without circles: each activity follows earlier ones only; whole numbers, so nothing rounds. */
const network = fc
  .array(
    fc.record({
      duration: fc.integer({ min: 0, max: 20 }),
      links: fc.array(
        fc.record({
          back: fc.integer({ min: 1, max: 6 }),
          type: fc.constantFrom<LinkType>('FS', 'FS', 'SS', 'FF', 'SF'),
          lag: fc.integer({ min: -5, max: 10 }),
        }),
        { maxLength: 3 },
      ),
    }),
    { minLength: 1, maxLength: 25 },
  )
  .map((items): Activity[] =>
    items.map((item, k) => ({
      id: `a${k}`,
      duration: item.duration,
      after: item.links.filter((l) => k - l.back >= 0).map((l) => ({ id: `a${k - l.back}`, type: l.type, lag: l.lag })),
    })),
  );

describe('critical-path', () => {
  test.each(networks)('$id: $source', ({ inputs, expected }) => {
    const o = resultOf(criticalPath, inputs);
    expect(o.duration).toBeCloseTo(expected.duration, 9);
    if (expected.critical) expect([...o.critical].sort()).toEqual([...expected.critical].sort());
    for (const [id, dates] of Object.entries(expected.activities ?? {})) {
      for (const [key, value] of Object.entries(dates)) {
        expect(o.activities[id]![key as 'early_start'], `${id} ${key}`).toBeCloseTo(value, 9);
      }
    }
  });

  test('derived figures of the practice blank: 40 operations, about 232 days', () => {
    const days = { day: 7 / 40, two: 7 / 96, clock: 1 / 24 };
    const activities = sequence.map((op) => ({
      id: op.id,
      duration: op.hours * days[op.calendar as 'day'],
      after: op.after.map((l) => ({ id: l.id, type: l.type, lag: l.lag_h / 24 })),
    }));
    const o = resultOf(criticalPath, { activities });
    expect(Math.round(o.duration)).toBe(232);
    expect(o.critical.join(' ')).toBe(
      '1.1 1.2 2.1 2.2 2.3 2.4 3.1 3.2 3.3 4.1 4.2 5.1 6.1 6.3 6.4 7.1 7.2 7.3 8.2 9.1 9.2 9.3 10.1 11.1 11.3 11.4 12.1 12.2 12.3 12.4 12.5 13.1 13.2 13.3 14.1 14.2',
    );
    const finish = (id: string): number => Math.round(o.activities[id]!.early_finish);
    expect(
      ['2.4', '3.3', '5.1', '6.4', '7.3', '8.2', '9.1', '10.1', '11.3', '11.4', '12.5', '14.2'].map(finish),
    ).toEqual([24, 31, 44, 58, 76, 80, 81, 88, 118, 174, 195, 232]);
  });

  test('refuses a circle with its members, and nothing but its members', () => {
    const activities = [
      { id: 'end', duration: 1, after: ['C'] },
      { id: 'start', duration: 1 },
      { id: 'A', duration: 1, after: ['start', 'C'] },
      { id: 'B', duration: 1, after: ['A'] },
      { id: 'C', duration: 1, after: [{ id: 'B', type: 'SS', lag: 2 }] },
    ];
    const { path, message } = errorOf(criticalPath, { activities });
    expect(path).toBe('activities');
    expect(message).toMatch(/^follow each other in a circle: (A → B → C → A|B → C → A → B|C → A → B → C)$/);
    expect(errorOf(criticalPath, { activities: [{ id: 'X', duration: 1, after: ['X'] }] }).message).toBe(
      'follow each other in a circle: X → X',
    );
  });

  test('refuses what is no plan', () => {
    const refused = (...activities: unknown[]) => errorOf(criticalPath, { activities });
    expect(refused()).toEqual({ path: 'activities', message: 'needs at least 1' });
    expect(refused({ id: 'A', duration: -1 })).toEqual({
      path: 'activities.0.duration',
      message: 'must not be negative: a duration',
    });
    expect(refused({ id: 'A', duration: 1 }, { id: 'A', duration: 2 })).toEqual({
      path: 'activities.1.id',
      message: 'stands twice: A',
    });
    expect(refused({ id: 'A', duration: 1, after: ['B'] })).toEqual({
      path: 'activities.0.after.0',
      message: 'names no activity: B',
    });
    expect(refused({ id: 'A', duration: 1, after: [{ id: 'A', type: 'XX' }] })).toEqual({
      path: 'activities.0.after.0',
      message: 'must be an id, or an id with a type (FS, SS, FF or SF) and a lag, and nothing else',
    });
    expect(refused({ id: '__proto__', duration: 1 })).toEqual({
      path: 'activities.0.id',
      message: 'cannot be used as an id',
    });
    expect(refused({ id: 'A', duration: 1e308 }, { id: 'B', duration: 1e308, after: ['A'] }).message).toBe(
      'these numbers lead outside what can be computed',
    );
  });

  test('an activity tied only by its start is not free beyond the end of the whole', () => {
    const activities = [
      { id: 'A', duration: 10 },
      { id: 'B', duration: 1, after: [{ id: 'A', type: 'SS', lag: 5 }] },
    ];
    const o = resultOf(criticalPath, { activities });
    expect(o.duration).toBe(10);
    expect(o.activities.A).toMatchObject({ total_float: 0, free_float: 0 });
    expect(o.activities.B).toMatchObject({ early_start: 5, total_float: 4, free_float: 4 });
    expect(o.critical).toEqual(['A']);
  });

  test('decimal durations leave no dust on the critical path', () => {
    const chain = [0.1, 0.2, 0.3, 0.7, 1.1].map((duration, k) => ({
      id: `c${k}`,
      duration,
      after: k === 0 ? [] : [`c${k - 1}`],
    }));
    expect(resultOf(criticalPath, { activities: chain }).critical).toEqual(['c0', 'c1', 'c2', 'c3', 'c4']);
    // In the order of time, however the list stands.
    const reversed = resultOf(criticalPath, { activities: chain.toReversed() });
    expect(reversed.critical).toEqual(['c0', 'c1', 'c2', 'c3', 'c4']);
  });

  test('early dates are the least that hold, late dates the greatest, floats what can be given away', () => {
    fc.assert(
      fc.property(network, (activities) => {
        const o = resultOf(criticalPath, { activities });
        const early = new Map(activities.map((a) => [a.id, o.activities[a.id]!.early_start]));
        expect(early).toEqual(relax(activities));
        const late = new Map(activities.map((a) => [a.id, o.activities[a.id]!.late_start]));
        expect(holds(activities, early, o.duration)).toBe(true);
        expect(holds(activities, late, o.duration)).toBe(true);
        for (const a of activities) {
          const d = o.activities[a.id]!;
          const finishes = (at: number): number => {
            const start = relax(activities, { id: a.id, at });
            return Math.max(...activities.map((b) => start.get(b.id)! + b.duration));
          };
          expect(finishes(d.late_start)).toBe(o.duration);
          expect(finishes(d.late_start + 1)).toBeGreaterThan(o.duration);
          // Free float: with everybody else at the earliest start, this one may slip so far and no farther.
          const slipped = (by: number) => new Map(early).set(a.id, d.early_start + by);
          expect(holds(activities, slipped(d.free_float), o.duration)).toBe(true);
          expect(holds(activities, slipped(d.free_float + 1), o.duration)).toBe(false);
          expect(d.free_float).toBeLessThanOrEqual(d.total_float);
        }
        expect(o.critical.length).toBeGreaterThan(0);
      }),
      { seed: 1, numRuns: 150 },
    );
  });

  test('does not care for the order of the list, and scales with the unit of time', () => {
    fc.assert(
      fc.property(network, fc.double({ min: 0.01, max: 100, noNaN: true }), (activities, k) => {
        const o = resultOf(criticalPath, { activities });
        const reversed = resultOf(criticalPath, { activities: activities.toReversed() });
        expect(reversed.activities).toEqual(o.activities);
        expect([...reversed.critical].sort()).toEqual([...o.critical].sort());
        const scaled = resultOf(criticalPath, {
          activities: activities.map((a) => ({
            ...a,
            duration: a.duration * k,
            after: a.after.map((l) => ({ ...l, lag: l.lag * k })),
          })),
        });
        expectRelative(scaled.duration, o.duration * k, 1e-12);
        expect([...scaled.critical].sort()).toEqual([...o.critical].sort());
      }),
      { seed: 1, numRuns: 100 },
    );
  });

  test('the working says what each activity waits for', () => {
    const lines = workingOf(criticalPath, {
      activities: [
        { id: 'A', duration: 4 },
        { id: 'B', duration: 2, after: ['A', { id: 'A', type: 'SS', lag: -1 }] },
      ],
    });
    expect(lines[0]!.formula).toBe('from the start');
    expect(lines[1]!.formula).toBe('after A, A SS − 1');
  });
});

/** An example of a schedule brought up to date, in days from its start. */
interface Update {
  name: string;
  /** The data date. */
  now: number;
  planned: Task[];
  inForce: Task[];
  actual: Record<string, { start: number; finish?: number }>;
  plannedFinish: number;
  finish: number;
  /** Early start and finish, late start and finish; null for the starts of what has begun. */
  dates: Record<string, [number | null, number, number | null, number]>;
}
interface Task {
  id: string;
  days: number;
  after: { id: string; type: LinkType; lag: number }[];
}

const DAY_MS = 86_400_000;
/** Day 1 of the test casting. */
const START_MS = Date.UTC(2026, 2, 1);

/** A plan of these tasks alone, all round the clock. */
const planOf = (tasks: readonly Task[], revision: string): Plan =>
  planSchema.parse({
    ...smallPlan,
    revision,
    characteristics: [],
    holds: [],
    operations: tasks.map(({ id, days, after }) => ({
      ...smallPlan.operations[0]!,
      id,
      hours: days * 24,
      calendar: 'clock',
      measures: [],
      after: after.map((l) => ({ id: l.id, type: l.type, lag_h: l.lag * 24 })),
    })),
  });

/** A tablet on which the work was begun and finished as told, under a plan that was revised where it differs. */
function tabletOf({ planned, inForce, actual }: Update): TestTablet {
  const [tablet] = tablets(['A'], planOf(planned, 'A')) as [TestTablet];
  const minute = (day: number): number => day * 24 * 60;
  const roles = [...lead.roles, 'process-engineer' as const];
  tablet.write('person', { person: lead.id, name: lead.name, roles }, lead, 5);
  if (JSON.stringify(planned) !== JSON.stringify(inForce)) {
    const parents = [tablet.view().planHash];
    tablet.write('plan', { plan: planOf(inForce, 'B'), parents, reason: 'as told on the data date' }, lead, 6);
  }
  for (const [operation, { start, finish }] of Object.entries(actual)) {
    tablet.write('operation', { operation, mark: 'started' }, lead, minute(start));
    if (finish !== undefined) tablet.write('operation', { operation, mark: 'finished' }, lead, minute(finish));
  }
  return tablet;
}

describe('forecasts from the log', () => {
  const { examples } = publishedData<{ examples: Update[] }>('critical-path-forecast');

  // The source stands in the data. What is under way has, in the book, a remaining duration; here its work from its start.
  test.each(examples.map((e) => [e.name, e] as const))('are those of the book: %s', (_, example) => {
    const { operations, ...whole } = scheduleAt(tabletOf(example).view(), START_MS + example.now * DAY_MS);
    const day = (at_ms: number): number => (at_ms - START_MS) / DAY_MS;
    expect(day(whole.plannedFinish_ms)).toBe(example.plannedFinish);
    expect(day(whole.finish_ms)).toBe(example.finish);
    expect(whole.slip_ms / DAY_MS).toBe(example.finish - example.plannedFinish);
    const left = operations.filter((o) => o.progress !== 'done');
    const told = left.map(({ id, progress, forecast: f }) => {
      const ahead = progress === 'ahead';
      const starts = [f.start_ms, f.lateStart_ms].map((at) => (ahead ? day(at) : null));
      return [id, [starts[0], day(f.finish_ms), starts[1], day(f.lateFinish_ms)]];
    });
    expect(Object.fromEntries(told)).toEqual(example.dates);
    for (const { id, forecast } of left) {
      const [, early, , late] = example.dates[id]!;
      expect(forecast.totalFloat_ms / DAY_MS, id).toBe(late - early);
      expect(forecast.critical, id).toBe(late === early);
    }
  });
});

test('what is known of any set of activities gives the end that the published shares of a delay add up', () => {
  const { planned, observed, delay, shares } = publishedData<{
    planned: string;
    observed: number[];
    delay: number;
    shares: number[];
  }>('critical-path-delay');
  const { activities } = networks.find((n) => n.id === planned)!.inputs;
  const n = activities.length;
  const endOf = (known: number): number => {
    const durations = activities.map((a, k) => ({ ...a, duration: known & (1 << k) ? observed[k]! : a.duration }));
    return criticalPath.compute({ activities: durations }).duration;
  };
  const sets = Array.from({ length: 1 << n }, (_, known) => endOf(known));
  expect(sets.at(-1)! - sets[0]!).toBeCloseTo(delay, 9);
  const factorial = (k: number): number => (k < 2 ? 1 : k * factorial(k - 1));
  const size = (known: number): number => known.toString(2).replaceAll('0', '').length;
  const late = (known: number): number => Math.max(0, sets[known]! - sets[0]!);
  const shapley = activities.map((_, k) =>
    sets.reduce((sum, _end, known) => {
      if (known & (1 << k)) return sum;
      const weight = (factorial(size(known)) * factorial(n - size(known) - 1)) / factorial(n);
      return sum + weight * (late(known | (1 << k)) - late(known));
    }, 0),
  );
  shapley.forEach((share, k) => {
    expect(share, activities[k]!.id).toBeCloseTo(shares[k]!, 5);
  });
});
