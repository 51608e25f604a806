import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { criticalPath } from '../../shared/calculations/critical-path.ts';
import table from './data/critical-path.json';
import sequence from './data/practice-plan-sequence.json';
import { errorOf, expectRelative, resultOf, workingOf } from './outside-checks.ts';

interface Network {
  id: string;
  inputs: { activities: { id: string; duration: number }[] };
  expected: {
    duration: number;
    critical: string[];
    activities?: Record<string, Record<string, number>>;
  };
  source: string;
}
const networks = table as unknown as Network[];

type LinkType = 'FS' | 'SS' | 'FF' | 'SF';
interface Activity {
  id: string;
  duration: number;
  after: { id: string; type: LinkType; lag: number }[];
}

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

/** Whether a set of starts keeps every link, the beginning and the end. */
function holds(activities: Activity[], start: Map<string, number>, end: number): boolean {
  const duration = new Map(activities.map((a) => [a.id, a.duration]));
  return activities.every((a) => {
    const s = start.get(a.id)!;
    const links = a.after.every((l) => {
      const from = start.get(l.id)! + (l.type === 'FS' || l.type === 'FF' ? duration.get(l.id)! : 0);
      const to = s + (l.type === 'FF' || l.type === 'SF' ? a.duration : 0);
      return to >= from + l.lag;
    });
    return links && s >= 0 && s + a.duration <= end;
  });
}

/** Earliest starts by relaxing every link until nothing moves; `fixed` holds one activity back. */
function relax(activities: Activity[], fixed?: { id: string; at: number }): Map<string, number> {
  const start = new Map(activities.map((a) => [a.id, a.id === fixed?.id ? fixed.at : 0]));
  const duration = new Map(activities.map((a) => [a.id, a.duration]));
  for (let moved = true; moved; ) {
    moved = false;
    for (const a of activities) {
      for (const l of a.after) {
        const from = start.get(l.id)! + (l.type === 'FS' || l.type === 'FF' ? duration.get(l.id)! : 0);
        const least = from + l.lag - (l.type === 'FF' || l.type === 'SF' ? a.duration : 0);
        if (least > start.get(a.id)!) {
          start.set(a.id, least);
          moved = true;
        }
      }
    }
  }
  return start;
}

describe('critical-path', () => {
  test.each(networks)('$id: $source', ({ inputs, expected }) => {
    const o = resultOf(criticalPath, inputs);
    expect(o.duration).toBeCloseTo(expected.duration, 9);
    expect([...o.critical].sort()).toEqual([...expected.critical].sort());
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
