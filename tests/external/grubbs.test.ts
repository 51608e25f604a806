import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { grubbs } from '../../shared/calculations/grubbs.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

// Readings to a thousandth, as a gauge gives them.
const values = fc.array(
  fc.integer({ min: -100_000, max: 100_000 }).map((k) => k / 1000),
  { minLength: 3, maxLength: 30 },
);

describeOutsideChecks(grubbs);

describe('grubbs', () => {
  it('agrees with mean, deviation and Student quantile of jstat', () => {
    fc.assert(
      fc.property(
        values.filter((v) => jstat.stdev(v, true) > 1e-3),
        (list) => {
          const n = list.length;
          const result = resultOf(grubbs, { values: list });
          const mean = jstat.mean(list);
          const statistic = Math.max(...list.map((v) => Math.abs(v - mean))) / jstat.stdev(list, true);
          expect(result.statistic).toBeCloseTo(statistic, 9);
          const t = jstat.studentt.inv(0.05 / (2 * n), n - 2);
          expect(result.critical).toBeCloseTo(((n - 1) / Math.sqrt(n)) * Math.sqrt(t ** 2 / (n - 2 + t ** 2)), 6);
        },
      ),
      { seed: 1, numRuns: 200, endOnFailure: true },
    );
  });

  it('does not change with a shift or a scale, and moves the index with the order', () => {
    fc.assert(
      fc.property(values, fc.integer({ min: -8, max: 8 }), (list, power) => {
        const one = resultOf(grubbs, { values: list });
        const other = resultOf(grubbs, { values: list.map((v) => v * 2 ** power).toReversed() });
        expect(other.statistic).toBeCloseTo(one.statistic, 9);
        if (one.outlier_index !== null)
          expect(list[list.length - 1 - other.outlier_index!]).toBe(list[one.outlier_index]);
      }),
      { seed: 1, numRuns: 200, endOnFailure: true },
    );
  });

  it('finds nothing among equal values', () => {
    expect(resultOf(grubbs, { values: [0.1, 0.1, 0.1, 0.1] })).toMatchObject({ statistic: 0, outlier_index: null });
  });

  it('sees an outlier far from the origin', () => {
    // NIST StRD NumAcc4 shows how a mean far from 0 loses digits; here the spread is 1e-8 of the mean.
    const list = [0.1, 0.3, 0.2, 0.1, 0.3, 0.2, 5].map((d) => 1e7 + d);
    expect(resultOf(grubbs, { values: list })).toMatchObject({ outlier_index: 6 });
  });

  it.each([
    [{ values: [1, 2] }, 'values', 'needs at least 3'],
    [{ values: [1, 2, 3], alpha: 0 }, 'alpha', 'must be greater than 0: a probability'],
    [{ values: [1, 2, null] }, 'values.2', 'must be a finite number'],
    [{ values: [-1.7e308, 1.7e308, 0] }, 'values', 'lie too far apart to be computed'],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(grubbs, input)).toEqual({ path, message });
  });
});
