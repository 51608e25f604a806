import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { joined, padded, valueTicks } from '../../src/tablet/screens/heat/chart/plot-scale.ts';
import { TimeTicks } from '../../src/tablet/screens/heat/chart/time-ticks.ts';

const DAY_MS = 86_400_000;

describe('the scale of values', () => {
  it('has room round what it shows, never less than two kelvin, and a scale of its own without values', () => {
    expect(padded(100, 200)).toEqual({ low: 95, high: 205 });
    const steady = padded(500, 500.1);
    expect(steady.high - steady.low).toBeCloseTo(2.2);
    expect(padded(Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY)).toEqual({ low: 0, high: 100 });
    expect(joined({ low: 0, high: 5 }, { low: 2, high: 9 })).toEqual({ low: 0, high: 9 });
  });

  it('marks round values inside, at most as many as there is room for', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -300, max: 1200, noNaN: true }),
        fc.double({ min: 0.5, max: 1500, noNaN: true }),
        fc.integer({ min: 3, max: 20 }),
        (low, span, most) => {
          const ticks = valueTicks({ low, high: low + span }, most);
          expect(ticks.length).toBeLessThanOrEqual(most + 1);
          for (const { at } of ticks) {
            expect(at).toBeGreaterThanOrEqual(low - 1e-9 * span);
            expect(at).toBeLessThanOrEqual(low + span + 1e-9 * span);
          }
          expect(new Set(ticks.map((t) => t.words)).size).toBe(ticks.length);
        },
      ),
      { seed: 31 },
    );
    expect(valueTicks({ low: -41, high: 63 }, 6).map((t) => t.words)).toEqual(['−40', '−20', '0', '20', '40', '60']);
    expect(valueTicks({ low: 0.02, high: 0.33 }, 4).map((t) => t.words)).toEqual(['0.1', '0.2', '0.3']);
  });
});

describe('marks over months', () => {
  it('stand at round days of the casting, with day 1 in the place of day 0', () => {
    const ticks = new TimeTicks('Etc/UTC', '2026-03-01');
    const dayOne = Date.UTC(2026, 2, 1);
    const marks = ticks.at(dayOne - 30 * DAY_MS, dayOne + 60 * DAY_MS, 15 * DAY_MS);
    expect(marks.map((at) => ticks.words(at)).sort()).toEqual(
      ['day 1', 'day 20', 'day 40', 'day 60', 'day −20'].sort(),
    );
    // Asked again, the same.
    expect(ticks.words(marks[0]!)).toBe('day 1');
  });
});
