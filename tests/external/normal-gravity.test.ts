import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normalGravity } from '../../shared/calculations/normal-gravity.ts';
import { describeOutsideChecks, errorOf, resultOf, workingOf } from './outside-checks.ts';

const g = (latitude_deg: number, height_m = 0): number => resultOf(normalGravity, { latitude_deg, height_m }).g_m_s2;

describe('normal-gravity', () => {
  describeOutsideChecks(normalGravity);

  test('mean over the ellipsoid is 9.7976432222 (NIMA TR8350.2 third edition, chapter 3)', () => {
    // Area of a belt of the ellipsoid: cos φ / (1 − e² sin² φ)²; midpoint rule on half the meridian.
    const steps = 20_000;
    let weighted = 0;
    let area = 0;
    for (let k = 0; k < steps; k++) {
      const deg = ((k + 0.5) * 90) / steps;
      const phi = (deg * Math.PI) / 180;
      const belt = Math.cos(phi) / (1 - 0.00669437999014 * Math.sin(phi) ** 2) ** 2;
      weighted += normalGravity.compute({ latitude_deg: deg }).g_m_s2 * belt;
      area += belt;
    }
    expect(weighted / area).toBeCloseTo(9.7976432222, 8);
  });

  test('derived figures of the practice blank', () => {
    expect(g(28.5, 620)).toBeCloseTo(9.790179, 6);
    expect(g(28.5)).toBeCloseTo(9.792092, 6);
  });

  test('refuses places that are not on Earth', () => {
    expect(errorOf(normalGravity, { latitude_deg: 90.1 })).toEqual({
      path: 'latitude_deg',
      message: 'is above 90°: no place on Earth',
    });
    expect(errorOf(normalGravity, { latitude_deg: -91 }).message).toBe('is below -90°: no place on Earth');
    expect(errorOf(normalGravity, { latitude_deg: 0, height_m: 1e6 })).toEqual({
      path: 'height_m',
      message: 'is above 100000 m: the formula in h² no longer holds',
    });
    expect(errorOf(normalGravity, {})).toEqual({ path: 'latitude_deg', message: 'is missing' });
    expect(errorOf(normalGravity, { latitude_deg: 1, h: 2 }).message).toBe('has unknown keys: h');
  });

  test('is the same on both halves of the Earth, grows to the poles and falls with height', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 89, noNaN: true }),
        fc.double({ min: 1e-3, max: 1, noNaN: true }),
        fc.double({ min: -1000, max: 9000, noNaN: true }),
        (latitude, step, height) => {
          expect(g(-latitude, height)).toBe(g(latitude, height));
          expect(g(latitude + step)).toBeGreaterThan(g(latitude));
          expect(g(latitude, height + 1)).toBeLessThan(g(latitude, height));
        },
      ),
      { seed: 1, numRuns: 200 },
    );
  });

  test('the working says that a measured g is better', () => {
    expect(workingOf(normalGravity, { latitude_deg: 28.5 }).map((line) => line.meaning)).toContain(
      'local anomalies reach this much: a measured g is better',
    );
  });
});
