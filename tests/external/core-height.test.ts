import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { coreHeight } from '../../shared/calculations/core-height.ts';
import { coreLayout } from '../../shared/calculations/core-layout.ts';
import { describeOutsideChecks, errorOf, expectRelative, resultOf } from './outside-checks.ts';

const practice = {
  distance_from_axis_mm: 0,
  radius_of_curvature_mm: 10240,
  centre_thickness_mm: 280,
  face_thickness_mm: 28,
  back_thickness_mm: 25,
};
const at = (r: number): number => resultOf(coreHeight, { ...practice, distance_from_axis_mm: r }).height_mm;

describe('core-height', () => {
  describeOutsideChecks(coreHeight);

  test('a parabola is level at twice its height 1/√2 of the way out (Archimedes, Quadrature of the parabola, proposition 3)', () => {
    const rise = (r: number): number => at(r) - at(0);
    expectRelative(rise(1000), 2 * rise(1000 / Math.SQRT2), 1e-12);
  });

  test('derived figures of the practice blank', () => {
    expect(at(0)).toBeCloseTo(227, 9);
    expect(at(180)).toBeCloseTo(228.58, 2);
    expect(at(952.47)).toBeCloseTo(271.3, 2);
    expect(at(1473.363)).toBeCloseTo(333.0, 2);
    const layout = { blank_diameter_mm: 3200, pitch_mm: 180, gap_mm: 12, edge_margin_mm: 25, list: true };
    const whole = resultOf(coreLayout, layout).positions!.filter((p) => p.whole);
    const heights = new Set(whole.map((p) => at(Math.hypot(p.x_mm, p.y_mm)).toFixed(2)));
    expect(heights.size).toBe(27);
    expect([...heights].map(Number).sort((a, b) => b - a)[0]).toBe(333);
  });

  test('refuses a core without height', () => {
    expect(errorOf(coreHeight, { ...practice, centre_thickness_mm: 53 })).toEqual({
      path: 'centre_thickness_mm',
      message: 'leaves no height for a core between face and back',
    });
    expect(errorOf(coreHeight, { ...practice, distance_from_axis_mm: -1 })).toEqual({
      path: 'distance_from_axis_mm',
      message: 'must not be negative: a distance',
    });
    expect(errorOf(coreHeight, { ...practice, radius_of_curvature_mm: 0 })).toEqual({
      path: 'radius_of_curvature_mm',
      message: 'must be greater than 0: a radius of curvature',
    });
    expect(errorOf(coreHeight, { ...practice, distance_from_axis_mm: 1e300, radius_of_curvature_mm: 1 }).message).toBe(
      'these numbers lead outside what can be computed',
    );
  });

  test('core, face and back add up to the thickness, and all scales together', () => {
    const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        some(0, 4000),
        some(2000, 40_000),
        some(1, 50),
        some(1, 50),
        some(1, 500),
        some(0.01, 100),
        (r, R, f, b, core, k) => {
          const input = {
            distance_from_axis_mm: r,
            radius_of_curvature_mm: R,
            centre_thickness_mm: f + b + core,
            face_thickness_mm: f,
            back_thickness_mm: b,
          };
          const h = resultOf(coreHeight, input).height_mm;
          expectRelative(h + f + b - input.centre_thickness_mm + 1, (r * r) / (2 * R) + 1, 1e-11);
          const scaled = Object.fromEntries(Object.entries(input).map(([key, v]) => [key, v * k]));
          expectRelative(resultOf(coreHeight, scaled).height_mm, k * h, 1e-11);
        },
      ),
      { seed: 1, numRuns: 200 },
    );
  });
});
