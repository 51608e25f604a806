import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { plannedAtHours, segmentEnds } from '../../shared/logbook/state/heat.ts';
import type { Heat } from '../../shared/logbook/state/rounds.ts';
import { columnMiddle, LineColumns, levelFor } from '../../shared/logger/columns.ts';
import { pyramidOf } from '../../shared/logger/pyramid.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { held, panned, zoomed } from '../../src/tablet/screens/heat/chart/gestures.ts';
import { planCorners } from '../../src/tablet/screens/heat/chart/heat-outline.ts';
import { fillKept, keptLine } from '../../src/tablet/screens/heat/chart/kept-lines.ts';
import { plannedOn } from '../../src/tablet/screens/heat/chart/planned-on.ts';
import { TimeTicks } from '../../src/tablet/screens/heat/chart/time-ticks.ts';

const HOUR_MS = 3_600_000;

describe('samples in the columns of a chart', () => {
  it('show every extreme of the stretch, at the level that is chosen for it', () => {
    fc.assert(
      fc.property(
        fc.array(fc.float({ min: 0, max: 1200, noNaN: true }), { minLength: 400, maxLength: 4000 }),
        fc.integer({ min: 20, max: 400 }),
        (all, columns) => {
          const times = Float64Array.from(all, (_, i) => i * 60_000);
          const values = Float32Array.from(all);
          const pyramid = pyramidOf({ times, channels: [{ channel: 'a', values }] });
          const span = times.at(-1)!;
          const grid = { from_ms: -30_000, column_ms: (span + 60_000) / columns, columns };
          const level = levelFor(span, all.length, pyramid.levels.length, grid.column_ms);
          const drawn = new LineColumns(grid);
          drawn.add(pyramid.levels[level]!, pyramid.channels[0]!.levels[level]!, pyramid.gap_ms);
          const known = (list: readonly (number | null | undefined)[]) => list.filter((v) => typeof v === 'number');
          expect(Math.min(...known(drawn.least))).toBe(Math.min(...values));
          expect(Math.max(...known(drawn.greatest))).toBe(Math.max(...values));
          // Fewer buckets than a hand's count for each column, however many samples lie behind them.
          expect(pyramid.levels[level]!.from.length).toBeLessThanOrEqual(Math.max(8 * columns + 8, 200 * 8));
        },
      ),
      { seed: 17, numRuns: 60 },
    );
  });

  it('break in a gap, and go on over columns between samples', () => {
    const times = Float64Array.from([0, 60, 120, 6000, 6060].map((s) => s * 1000));
    const values = Float32Array.from([1, 2, 3, 4, 5]);
    const drawn = new LineColumns({ from_ms: 0, column_ms: 20_000, columns: 310 });
    drawn.add({ from: times, to: times }, { least: values, greatest: values }, 600_000);
    expect(drawn.least.slice(0, 7)).toEqual([1, undefined, undefined, 2, undefined, undefined, 3]);
    expect(drawn.least.filter((v) => v === null)).toHaveLength(1);
    expect([drawn.least[300], drawn.least[303]]).toEqual([4, 5]);
  });
});

describe('a kept chart', () => {
  it('draws on any grid what was kept, to a tenth of a kelvin, with its gaps', () => {
    fc.assert(
      fc.property(
        fc.array(fc.option(fc.float({ min: 0, max: 1200, noNaN: true })), { minLength: 5, maxLength: 80 }),
        fc.integer({ min: 1, max: 6 }),
        (all, finer) => {
          const grid = { from_ms: 1000, column_ms: 600, columns: all.length };
          const whole = new LineColumns(grid);
          all.forEach((value, i) => {
            const at = Float64Array.of(columnMiddle(grid, i));
            if (value === null) whole.gapAt(at[0]!);
            else
              whole.add(
                { from: at, to: at },
                { least: Float32Array.of(value), greatest: Float32Array.of(value + 1) },
                1,
              );
          });
          const drawn = new LineColumns({ from_ms: 1000, column_ms: 600 / finer, columns: all.length * finer });
          fillKept(drawn, keptLine('a', whole), grid);
          all.forEach((value, i) => {
            const at = i * finer + Math.floor(finer / 2);
            if (value === null) expect(drawn.least[at]).toBeNull();
            else {
              expect(Math.abs(drawn.least[at]! - value)).toBeLessThanOrEqual(0.051);
              expect(Math.abs(drawn.greatest[at]! - value - 1)).toBeLessThanOrEqual(0.051);
            }
          });
          expect(drawn.least.filter((v) => v !== undefined)).toHaveLength(all.length);
        },
      ),
      { seed: 41, numRuns: 60 },
    );
  });
});

describe('the plan on a chart', () => {
  const plan = buildPlan(practiceDesign).heatPlans.find((h) => h.id === 'P3')!;
  const start_ms = Date.UTC(2026, 2, 1);
  const corners = planCorners({ plan, start_ms } as Heat);

  it('is that of the calculation heat-plan at every instant', () => {
    const hours = Array.from({ length: 400 }, (_, i) => (i + 0.37) * (segmentEnds(plan).at(-1)! / 401));
    const wanted = plannedAtHours(plan, hours);
    const drawn = plannedOn(
      [corners],
      hours.map((h) => start_ms + h * HOUR_MS),
    );
    wanted.forEach(({ planned_C, band_K }, i) => {
      expect(drawn.planned[i]).toBeCloseTo(planned_C, 6);
      expect(drawn.high[i]! - drawn.low[i]!).toBeCloseTo(2 * band_K, 6);
    });
  });

  it('is none before and behind its heat', () => {
    expect(plannedOn([corners], [start_ms - 1, corners.at(-1)!.at_ms + 1]).planned).toEqual([null, null]);
  });
});

describe('moving a chart', () => {
  const whole = { from_ms: 0, to_ms: 100 * HOUR_MS };

  it('keeps what lies under the fingers where it is', () => {
    const to = zoomed({ from_ms: 10, to_ms: 110 }, 0.5, 0.25);
    expect(to).toEqual({ from_ms: 22.5, to_ms: 72.5 });
    expect(panned({ from_ms: 10, to_ms: 110 }, 0.1)).toEqual({ from_ms: 20, to_ms: 120 });
  });

  it('never leaves what there is, and never turns over', () => {
    const number = fc.double({ min: -1e9, max: 1e9, noNaN: true });
    fc.assert(
      fc.property(number, fc.double({ min: 1, max: 1e10, noNaN: true }), (from_ms, width) => {
        const to = held({ from_ms, to_ms: from_ms + width }, whole);
        const span = to.to_ms - to.from_ms;
        expect(span).toBeGreaterThanOrEqual(10 * 60_000 - 1);
        expect(span).toBeLessThanOrEqual(100 * HOUR_MS + 1);
        expect(to.from_ms).toBeGreaterThanOrEqual(-span / 10 - 1);
        expect(to.to_ms).toBeLessThanOrEqual(whole.to_ms + span / 10 + 1);
      }),
      { seed: 23 },
    );
  });
});

describe('marks on the time axis', () => {
  const ticks = new TimeTicks('Europe/Berlin', '2026-03-28');

  // IANA time zone data base: Europe/Berlin goes from +01:00 to +02:00 on 2026-03-29 at 01:00 UTC.
  it('stand at the midnights of the hall, also when its clock is put forward', () => {
    const marks = ticks.at(Date.UTC(2026, 2, 27, 12), Date.UTC(2026, 2, 31, 12), 20 * HOUR_MS);
    expect(marks.map((at) => new Date(at).toISOString())).toEqual([
      '2026-03-27T23:00:00.000Z',
      '2026-03-28T23:00:00.000Z',
      '2026-03-29T22:00:00.000Z',
      '2026-03-30T22:00:00.000Z',
    ]);
    expect(marks.map((at) => ticks.words(at))).toEqual(['day 1', 'day 2', 'day 3', 'day 4']);
  });

  it('say hours between, in the hall’s clock', () => {
    const marks = ticks.at(Date.UTC(2026, 2, 30, 22), Date.UTC(2026, 2, 31, 10), 2.5 * HOUR_MS);
    expect(marks.map((at) => ticks.words(at))).toEqual(['day 4', '03:00', '06:00', '09:00', '12:00']);
  });
});
