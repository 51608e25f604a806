import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spin } from '../../shared/calculations/spin.ts';
import { spinCheck } from '../../shared/calculations/spin-check.ts';
import { describeOutsideChecks, errorOf, expectRelative, resultOf, workingOf } from './outside-checks.ts';

const practice = {
  radius_of_curvature_m: 10.24,
  g_m_s2: 9.790179,
  glass_expansion_per_K: 3.3e-6,
  set_temperature_C: 560,
  diameter_m: 3.2,
  radius_tolerance_m: 0.02,
};
const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('spin', () => {
  describeOutsideChecks(spin);

  test('derived figures of the practice blank', () => {
    const o = resultOf(spin, practice);
    expect(o.hot_radius_of_curvature_m).toBeCloseTo(10.25825, 5);
    expect(o.rotation_rate_rpm).toBeCloseTo(9.32889, 5);
    expect(o.period_s).toBeCloseTo(6.43163, 5);
    expect(o.rate_low_rpm).toBeCloseTo(9.3198, 5);
    expect(o.rate_high_rpm).toBeCloseTo(9.33802, 5);
    expect(o.focal_length_m).toBeCloseTo(5.12, 12);
    expect(o.sag_m).toBeCloseTo(0.125, 12);
    // Differentials: 0.001 rpm is 2.20 mm of R, 1e-4 m/s² of gravity is 0.105 mm.
    const radius = (rate: number, g: number): number =>
      resultOf(spinCheck, { rotation_rate_rpm: rate, g_m_s2: g, glass_expansion_per_K: 3.3e-6, set_temperature_C: 560 })
        .radius_of_curvature_m;
    const at = radius(o.rotation_rate_rpm, practice.g_m_s2);
    expect(1000 * (at - radius(o.rotation_rate_rpm + 0.001, practice.g_m_s2))).toBeCloseTo(2.2, 1);
    expect(1000 * (radius(o.rotation_rate_rpm, practice.g_m_s2 + 1e-4) - at)).toBeCloseTo(0.105, 3);
  });

  test('refuses what cannot spin', () => {
    expect(errorOf(spin, { ...practice, radius_of_curvature_m: 0 })).toEqual({
      path: 'radius_of_curvature_m',
      message: 'must be greater than 0: a radius of curvature',
    });
    expect(errorOf(spin, { ...practice, radius_tolerance_m: 10.24 })).toEqual({
      path: 'radius_tolerance_m',
      message: 'must be less than the radius of curvature',
    });
    expect(errorOf(spin, { ...practice, set_temperature_C: -300 })).toEqual({
      path: 'set_temperature_C',
      message: 'is below absolute zero (-273.15 °C)',
    });
    expect(errorOf(spin, { ...practice, glass_expansion_per_K: -1e-3, set_temperature_C: 1020 }).message).toBe(
      'is so far from 20 °C that the glass would have no length',
    );
    expect(
      errorOf(spin, { ...practice, radius_of_curvature_m: 1e-300, radius_tolerance_m: 0, diameter_m: 1e300 }).message,
    ).toBe('these numbers lead outside what can be computed');
  });

  test('spin-check turns it round, and the rate scales with the root of gravity over radius', () => {
    fc.assert(
      fc.property(
        some(0.1, 100),
        some(9.7, 9.9),
        some(0, 2e-5),
        some(-100, 1200),
        some(0.1, 10),
        (radius, g, alpha, t, k) => {
          const input = {
            radius_of_curvature_m: radius,
            g_m_s2: g,
            glass_expansion_per_K: alpha,
            set_temperature_C: t,
            diameter_m: 1,
          };
          const o = resultOf(spin, input);
          const back = resultOf(spinCheck, {
            rotation_rate_rpm: o.rotation_rate_rpm,
            g_m_s2: g,
            glass_expansion_per_K: alpha,
            set_temperature_C: t,
          });
          expectRelative(back.radius_of_curvature_m, radius, 1e-13);
          expectRelative(o.rotation_rate_rpm * o.period_s, 60, 1e-14);
          const scaled = resultOf(spin, { ...input, radius_of_curvature_m: radius * k * k });
          expectRelative(scaled.rotation_rate_rpm * k, o.rotation_rate_rpm, 1e-13);
          // A wider tolerance opens the limits to both sides.
          const wide = resultOf(spin, { ...input, radius_tolerance_m: radius / 100 });
          expect(wide.rate_low_rpm!).toBeLessThan(o.rotation_rate_rpm);
          expect(wide.rate_high_rpm!).toBeGreaterThan(o.rotation_rate_rpm);
        },
      ),
      { seed: 1, numRuns: 200 },
    );
  });

  test('the working names the neglected rotation of the Earth, once a sidereal day of 86164.1 s (from memory)', () => {
    const line = workingOf(spin, practice).find((l) => l.symbol === '2Ω/ω')!;
    expectRelative(line.value as number, (2 * resultOf(spin, practice).period_s) / 86_164.1, 1e-5);
  });
});
