import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { conformity } from '../../shared/calculations/conformity.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describeOutsideChecks(conformity);

describe('conformity', () => {
  it('agrees with the normal distribution of jstat', () => {
    fc.assert(
      fc.property(within(-5, 5), within(0.2, 3), within(0.5, 6), (value, u, width) => {
        const [lower, upper] = [-width / 2, width / 2];
        const oracle = jstat.normal.cdf(upper, value, u) - jstat.normal.cdf(lower, value, u);
        const result = resultOf(conformity, { value, standard_uncertainty: u, lower_limit: lower, upper_limit: upper });
        expect(result.probability_within).toBeCloseTo(oracle, 8);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('keeps the digits of a far tail and of a narrow tolerance', () => {
    // Abramowitz and Stegun, table 26.2: Q(10) = 7.61985e-24, from memory; φ(0) = 0.3989422804.
    const far = resultOf(conformity, { value: 0, standard_uncertainty: 1, lower_limit: 10 });
    expect(far.probability_within / 7.61985e-24).toBeCloseTo(1, 5);
    const narrow = resultOf(conformity, {
      value: 0,
      standard_uncertainty: 1,
      lower_limit: -5e-10,
      upper_limit: 5e-10,
    });
    expect(narrow.probability_within / 0.3989422804014327e-9).toBeCloseTo(1, 12);
  });

  it.each([
    // Decision rules of ISO 14253-1: on the acceptance limit is within, on the limit plus guard is outside.
    ['on the upper acceptance limit', { value: 9.835, standard_uncertainty: 0.1, upper_limit: 10 }, 'within'],
    ['a hair above it', { value: 9.83500001, standard_uncertainty: 0.1, upper_limit: 10 }, 'not-proven'],
    ['on the limit', { value: 10, standard_uncertainty: 0.1, upper_limit: 10 }, 'not-proven'],
    ['a guard above the limit', { value: 10.165, standard_uncertainty: 0.1, upper_limit: 10 }, 'outside'],
    ['on the lower acceptance limit at 0', { value: 0, standard_uncertainty: 0.1, lower_limit: -0.165 }, 'within'],
    ['a guard below the lower limit', { value: -0.33, standard_uncertainty: 0.1, lower_limit: -0.165 }, 'outside'],
    ['on the limit without uncertainty', { value: 10, standard_uncertainty: 0, upper_limit: 10 }, 'within'],
    [
      'on it but for rounding',
      { value: 0.1 + 0.2, standard_uncertainty: 0, upper_limit: 0.3, lower_limit: 0 },
      'within',
    ],
    ['beyond it without uncertainty', { value: 10.001, standard_uncertainty: 0, upper_limit: 10 }, 'outside'],
    // Both limits 1.7 u away: inside both acceptance limits, yet 1 - 2 * 0.0446 = 0.911 (normal table).
    ['two near limits', { value: 0, standard_uncertainty: 1, lower_limit: -1.7, upper_limit: 1.7 }, 'not-proven'],
    ['two limits at 1.96 u', { value: 0, standard_uncertainty: 1, lower_limit: -1.97, upper_limit: 1.97 }, 'within'],
    [
      'two near limits with a guard that is given',
      { value: 0, standard_uncertainty: 1, lower_limit: -1.7, upper_limit: 1.7, guard_factor: 1.65 },
      'within',
    ],
    ['no guard, on the limit', { value: 10, standard_uncertainty: 1, upper_limit: 10, guard_factor: 0 }, 'within'],
  ])('judges %s', (_case, input, verdict) => {
    expect(resultOf(conformity, input).verdict).toBe(verdict);
  });

  it('does not change with the unit, with a shift or turned about', () => {
    fc.assert(
      fc.property(within(-3, 3), within(0.01, 1), within(0.1, 4), within(1e-3, 1e3), (value, u, half, unit) => {
        const one = resultOf(conformity, { value, standard_uncertainty: u, lower_limit: -half, upper_limit: half });
        const turned = resultOf(conformity, {
          value: -value * unit,
          standard_uncertainty: u * unit,
          lower_limit: -half * unit,
          upper_limit: half * unit,
        });
        expect(turned.verdict).toBe(one.verdict);
        expect(turned.probability_within).toBeCloseTo(one.probability_within, 12);
        expect(turned.upper_acceptance).toBeCloseTo(-one.lower_acceptance! * unit, 8);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it('leaves out the limit that is not given', () => {
    const result = resultOf(conformity, { value: 1, standard_uncertainty: 0.1, lower_limit: null, upper_limit: 2 });
    expect(result.lower_acceptance).toBeNull();
    expect(result.upper_acceptance).toBeCloseTo(1.835, 12);
  });

  it.each([
    [{ value: 1, standard_uncertainty: 1 }, '', 'needs a lower limit, an upper limit or both'],
    [
      { value: 1, standard_uncertainty: 1, lower_limit: 2, upper_limit: 2 },
      'upper_limit',
      'must be greater than the lower limit',
    ],
    [
      { value: 1, standard_uncertainty: -1, upper_limit: 2 },
      'standard_uncertainty',
      'must not be negative: an uncertainty',
    ],
    [
      { value: 1, standard_uncertainty: 1, upper_limit: 2, guard_factor: -1 },
      'guard_factor',
      'must not be negative: the guard lies inside the limits',
    ],
    [{ value: '1', standard_uncertainty: 1, upper_limit: 2 }, 'value', 'must be a finite number'],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(conformity, input)).toEqual({ path, message });
  });
});
