import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spinCheck } from '../../shared/calculations/spin-check.ts';
import { describeOutsideChecks, errorOf, expectRelative, resultOf } from './outside-checks.ts';

const practice = {
  rotation_rate_rpm: 9.32889,
  g_m_s2: 9.790179,
  glass_expansion_per_K: 3.3e-6,
  set_temperature_C: 560,
};

describe('spin-check', () => {
  describeOutsideChecks(spinCheck);

  test('derived figures of the practice blank', () => {
    const o = resultOf(spinCheck, practice);
    expect(o.radius_of_curvature_m).toBeCloseTo(10.24, 4);
    expect(o.focal_length_m).toBeCloseTo(5.12, 4);
    expect(resultOf(spinCheck, { ...practice, rotation_rate_rpm: 9.3198 }).radius_of_curvature_m).toBeCloseTo(10.26, 4);
  });

  test('shrinks from hot to cold by the mean expansion (ISO 1; evaluated by hand: 20 m, 3.3e-6, 540 K)', () => {
    const hot = { rotation_rate_rpm: 60 / (2 * Math.PI), g_m_s2: 20, glass_expansion_per_K: 3.3e-6 };
    expect(resultOf(spinCheck, { ...hot, set_temperature_C: 560 }).radius_of_curvature_m).toBeCloseTo(
      20 / 1.001782,
      12,
    );
    expect(resultOf(spinCheck, { ...hot, set_temperature_C: 20 }).radius_of_curvature_m).toBeCloseTo(20, 12);
  });

  test('a slip of 0.1 % in the rate is 0.1997 % of focal length (f goes with ω⁻²; evaluated independently)', () => {
    const f = (rate: number): number => resultOf(spinCheck, { ...practice, rotation_rate_rpm: rate }).focal_length_m;
    expect(f(9.32889 * 1.001) / f(9.32889) - 1).toBeCloseTo(-0.001997004, 9);
    expect(f(9.32889 * 0.998) / f(9.32889) - 1).toBeCloseTo(0.00401203208, 9);
  });

  test('refuses what does not turn', () => {
    expect(errorOf(spinCheck, { ...practice, rotation_rate_rpm: 0 })).toEqual({
      path: 'rotation_rate_rpm',
      message: 'must be greater than 0: a rate',
    });
    expect(errorOf(spinCheck, { ...practice, g_m_s2: -9.8 })).toEqual({
      path: 'g_m_s2',
      message: 'must be greater than 0: gravity',
    });
    expect(errorOf(spinCheck, { ...practice, glass_expansion_per_K: 0.01 })).toEqual({
      path: 'glass_expansion_per_K',
      message: 'is above 1e-3 per K: no solid does that',
    });
    expect(errorOf(spinCheck, { ...practice, rotation_rate_rpm: 1e-300 }).message).toBe(
      'these numbers lead outside what can be computed',
    );
  });

  test('goes with gravity, and with the inverse square of the rate', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 100, noNaN: true }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        (n, k) => {
          const base = resultOf(spinCheck, { ...practice, rotation_rate_rpm: n });
          const faster = resultOf(spinCheck, { ...practice, rotation_rate_rpm: n * k });
          expectRelative(faster.radius_of_curvature_m * k * k, base.radius_of_curvature_m, 1e-13);
          const heavier = resultOf(spinCheck, { ...practice, rotation_rate_rpm: n, g_m_s2: practice.g_m_s2 * k });
          expectRelative(heavier.radius_of_curvature_m, base.radius_of_curvature_m * k, 1e-13);
        },
      ),
      { seed: 1, numRuns: 200 },
    );
  });
});
