import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spherometer } from '../../shared/calculations/spherometer.ts';
import { errorOf, expectRelative, resultOf } from './outside-checks.ts';

describe('spherometer', () => {
  test.each([
    { ring_radius_mm: 4, sag_mm: 2, sphere: 5, source: 'triangle 3-4-5 (Euclid, Elements I.47)' },
    { ring_radius_mm: 3, sag_mm: 1, sphere: 5, source: 'triangle 3-4-5 (Euclid, Elements I.47)' },
    { ring_radius_mm: 12, sag_mm: 8, sphere: 13, source: 'triangle 5-12-13 (Euclid, Elements I.47)' },
    { ring_radius_mm: 120, sag_mm: 50, sphere: 169, source: 'triangle 119-120-169 (Euclid, Elements I.47)' },
    { ring_radius_mm: 10, sag_mm: 10, sphere: 10, source: 'half a sphere' },
  ])('a ring of $ring_radius_mm with sag $sag_mm lies on a sphere of $sphere: $source', ({ sphere, ...input }) => {
    const { source: _, ...given } = input;
    expect(resultOf(spherometer, given).sphere_radius_mm).toBeCloseTo(sphere, 12);
  });

  test('a sphere is deeper than its paraboloid by r⁴/8R³ (D. Malacara, Optical Shop Testing, from memory)', () => {
    const R = 10_240;
    const r = 500;
    const sag = (r * r) / (2 * R) + r ** 4 / (8 * R ** 3);
    expectRelative(resultOf(spherometer, { ring_radius_mm: r, sag_mm: sag }).sphere_radius_mm, R, 1e-6);
  });

  test('derived figures of the practice blank: 125 mm of sag over 3200 mm', () => {
    const o = resultOf(spherometer, { ring_radius_mm: 1600, sag_mm: 125 });
    expect(o.radius_of_curvature_mm).toBeCloseTo(10_240, 9);
    expect(o.sphere_radius_mm).toBeCloseTo(10_302.5, 9);
  });

  test('refuses a surface without sag', () => {
    expect(errorOf(spherometer, { ring_radius_mm: 100, sag_mm: 0 })).toEqual({
      path: 'sag_mm',
      message: 'must be greater than 0: a flat or convex surface has no sag to read',
    });
    expect(errorOf(spherometer, { ring_radius_mm: -100, sag_mm: 1 })).toEqual({
      path: 'ring_radius_mm',
      message: 'must be greater than 0: a radius',
    });
    expect(errorOf(spherometer, { ring_radius_mm: 1e300, sag_mm: 1e-300 })).toEqual({
      path: '',
      message: 'these numbers lead outside what can be computed',
    });
    expect(errorOf(spherometer, { ring_radius_mm: 100 })).toEqual({ path: 'sag_mm', message: 'is missing' });
  });

  test('finds the sphere and the paraboloid that a ring was cut from, at any scale', () => {
    const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(some(100, 50_000), some(0.01, 0.99), some(1e-3, 1e3), (R, share, k) => {
        const a = R * share;
        const sphereSag = (a * a) / (R + Math.sqrt((R - a) * (R + a)));
        expectRelative(resultOf(spherometer, { ring_radius_mm: a, sag_mm: sphereSag }).sphere_radius_mm, R, 1e-12);
        const sag = (a * a) / (2 * R);
        const o = resultOf(spherometer, { ring_radius_mm: a, sag_mm: sag });
        expectRelative(o.radius_of_curvature_mm, R, 1e-14);
        expectRelative(o.sphere_radius_mm - o.radius_of_curvature_mm + R, sag / 2 + R, 1e-14);
        const scaled = resultOf(spherometer, { ring_radius_mm: a * k, sag_mm: sag * k });
        expectRelative(scaled.sphere_radius_mm, k * o.sphere_radius_mm, 1e-14);
      }),
      { seed: 1, numRuns: 200 },
    );
  });
});
