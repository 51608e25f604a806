import fc from 'fast-check';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { rate } from '../../shared/calculations/rate.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const readings = fc
  .array(fc.record({ at_h: within(0, 100), temperature_C: within(-50, 1300) }), { minLength: 3, maxLength: 20 })
  .filter((list) => Math.max(...list.map((r) => r.at_h)) - Math.min(...list.map((r) => r.at_h)) > 1);

describeOutsideChecks(rate);

describe('rate', () => {
  it('agrees with the least squares of ml-matrix', () => {
    fc.assert(
      fc.property(readings, (list) => {
        const result = resultOf(rate, { readings: list });
        const design = new Matrix(list.map((r) => [1, r.at_h]));
        const oracle = solve(design, Matrix.columnVector(list.map((r) => r.temperature_C)), true);
        expect(result.intercept_C).toBeCloseTo(oracle.get(0, 0), 5);
        expect(result.rate_K_h).toBeCloseTo(oracle.get(1, 0), 6);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('does not change when hours or degrees are shifted, and scales with them', () => {
    fc.assert(
      fc.property(readings, within(-1000, 1000), within(0, 1000), (list, hours, degrees) => {
        const one = resultOf(rate, { readings: list });
        const moved = list.map((r) => ({ at_h: r.at_h + hours, temperature_C: r.temperature_C + degrees }));
        const other = resultOf(rate, { readings: moved.toReversed() });
        expect(other.rate_K_h).toBeCloseTo(one.rate_K_h, 7);
        expect(other.standard_error_K_h).toBeCloseTo(one.standard_error_K_h as number, 7);
        const slower = list.map((r) => ({ ...r, at_h: r.at_h * 4 }));
        expect(resultOf(rate, { readings: slower }).rate_K_h * 4).toBeCloseTo(one.rate_K_h, 9);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('has no error to tell from two readings', () => {
    const two = [
      { at_h: 1, temperature_C: 560 },
      { at_h: 3, temperature_C: 559.7 },
    ];
    const result = resultOf(rate, { readings: two });
    expect(result.rate_K_h).toBeCloseTo(-0.15, 12);
    expect(result.intercept_C).toBeCloseTo(560.15, 10);
    expect(result.standard_error_K_h).toBeNull();
    expect(result.residual_standard_deviation_K).toBeNull();
  });

  it('keeps the slope of a slow cooling read at a late hour', () => {
    const list = Array.from({ length: 25 }, (_, k) => ({ at_h: 1e6 + k, temperature_C: 500 - 0.15 * k }));
    expect(resultOf(rate, { readings: list }).rate_K_h).toBeCloseTo(-0.15, 10);
  });

  it.each([
    [{ readings: [{ at_h: 0, temperature_C: 20 }] }, 'readings', 'needs at least 2 readings'],
    [
      {
        readings: [
          { at_h: 1, temperature_C: 20 },
          { at_h: 1, temperature_C: 30 },
        ],
      },
      'readings',
      'need at least 2 different times',
    ],
    [
      {
        readings: [
          { at_h: 1, temperature_C: 20 },
          { at_h: 2, temperature_C: -274 },
        ],
      },
      'readings.1.temperature_C',
      'is below absolute zero (-273.15 °C)',
    ],
    [
      {
        readings: [
          { at_h: 1, temperature_C: 20, by: 'x' },
          { at_h: 2, temperature_C: 20 },
        ],
      },
      'readings.0',
      'has unknown keys: by',
    ],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(rate, input)).toEqual({ path, message });
  });
});
