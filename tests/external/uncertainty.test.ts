import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { uncertainty } from '../../shared/calculations/uncertainty.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const component = fc.record({
  standard_uncertainty: within(0.01, 10),
  sensitivity: within(-3, 3),
  degrees_of_freedom: fc.option(fc.integer({ min: 1, max: 60 })),
});

describeOutsideChecks(uncertainty);

describe('uncertainty', () => {
  it('takes its coverage factor from the Student distribution of jstat', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 200 }), within(0.5, 0.99), (freedom, coverage) => {
        const result = resultOf(uncertainty, {
          components: [{ standard_uncertainty: 1, degrees_of_freedom: freedom + 0.4 }],
          coverage,
        });
        const oracle = jstat.studentt.inv((1 + coverage) / 2, freedom);
        expect(result.coverage_factor / oracle).toBeCloseTo(1, 6);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('goes over into the normal distribution without a step', () => {
    const factor = (freedom: number | null) =>
      resultOf(uncertainty, { components: [{ standard_uncertainty: 1, degrees_of_freedom: freedom }] }).coverage_factor;
    // Two-sided 95 % of the normal distribution: 1.959963984540054 (any table, from memory).
    expect(factor(null)).toBeCloseTo(1.959963984540054, 13);
    expect(factor(99_999) - factor(100_001)).toBeLessThan(1e-9);
    expect(factor(99_999)).toBeGreaterThan(factor(100_001));
    expect(factor(1e12)).toBeCloseTo(1.959963984540054, 11);
  });

  it('does not depend on order, and scales with the unit', () => {
    fc.assert(
      fc.property(fc.array(component, { minLength: 1, maxLength: 8 }), within(1e-3, 1e3), (components, unit) => {
        const one = resultOf(uncertainty, { components });
        const other = resultOf(uncertainty, {
          components: components
            .toReversed()
            .map((c) => ({ ...c, standard_uncertainty: c.standard_uncertainty * unit, sensitivity: -c.sensitivity })),
        });
        expect(other.combined / unit).toBeCloseTo(one.combined, 9);
        expect(other.expanded / unit).toBeCloseTo(one.expanded, 6);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('keeps the effective degrees of freedom between the least and the sum (GUM G.4.1, note)', () => {
    fc.assert(
      fc.property(fc.array(component, { minLength: 1, maxLength: 8 }), (components) => {
        const list = components.map((c) => ({ ...c, degrees_of_freedom: c.degrees_of_freedom ?? 7 }));
        const nu = resultOf(uncertainty, { components: list }).effective_degrees_of_freedom;
        if (nu === null) return;
        const all = list.map((c) => c.degrees_of_freedom);
        expect(nu).toBeGreaterThanOrEqual(Math.min(...all) * (1 - 1e-12));
        expect(nu).toBeLessThanOrEqual(all.reduce((a, b) => a + b) * (1 + 1e-12));
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('of nothing is nothing', () => {
    const result = resultOf(uncertainty, { components: [{ standard_uncertainty: 0, degrees_of_freedom: 4 }] });
    expect(result.expanded).toBe(0);
    expect(result.effective_degrees_of_freedom).toBeNull();
  });

  it.each([
    [{ components: [] }, 'components', 'needs at least 1'],
    [
      { components: [{ standard_uncertainty: -1 }] },
      'components.0.standard_uncertainty',
      'must not be negative: an uncertainty',
    ],
    [
      { components: [{ standard_uncertainty: 1, degrees_of_freedom: 0.5 }] },
      'components.0.degrees_of_freedom',
      'must be at least 1',
    ],
    [{ components: [{ standard_uncertainty: 1 }], coverage: 1 }, 'coverage', 'must be less than 1: a probability'],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(uncertainty, input)).toEqual({ path, message });
  });
});
