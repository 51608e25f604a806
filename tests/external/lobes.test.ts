import fc from 'fast-check';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { lobes } from '../../shared/calculations/lobes.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

const radius = fc.integer({ min: -500, max: 500 }).map((k) => 1600 + k / 1000);
/** Stations at uneven angles, at least 5 degrees apart. */
const uneven = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 9 }), radius), { minLength: 13, maxLength: 24 })
  .map((list) => list.map(([extra, radius_mm], k) => ({ angle_deg: 15 * k + extra, radius_mm })));
const once = { seed: 1, numRuns: 100, endOnFailure: true };

describeOutsideChecks(lobes);

describe('lobes', () => {
  it('agrees with the least squares of ml-matrix', () => {
    fc.assert(
      fc.property(uneven, (stations) => {
        const result = resultOf(lobes, { stations, orders: 3 });
        const angle = (deg: number, k: number) => (deg * k * Math.PI) / 180;
        const design = stations.map((s) => [
          1,
          ...[1, 2, 3].flatMap((k) => [Math.cos(angle(s.angle_deg, k)), Math.sin(angle(s.angle_deg, k))]),
        ]);
        const oracle = solve(
          new Matrix(design),
          Matrix.columnVector(stations.map((s) => s.radius_mm)),
          true,
        ).to1DArray();
        expect(result.mean_radius_mm).toBeCloseTo(oracle[0]!, 8);
        result.lobes.forEach((lobe, k) => {
          expect(lobe.amplitude_mm).toBeCloseTo(Math.hypot(oracle[2 * k + 1]!, oracle[2 * k + 2]!), 8);
        });
      }),
      once,
    );
  });

  it('turns with the stations and does not depend on their order', () => {
    fc.assert(
      fc.property(uneven, fc.integer({ min: 0, max: 359 }), (stations, turned) => {
        const one = resultOf(lobes, { stations, orders: 2 });
        const moved = stations.map((s) => ({ ...s, angle_deg: s.angle_deg + turned - 720 })).toReversed();
        const other = resultOf(lobes, { stations: moved, orders: 2 });
        one.lobes.forEach((lobe, k) => {
          expect(other.lobes[k]!.amplitude_mm).toBeCloseTo(lobe.amplitude_mm, 9);
          if (lobe.amplitude_mm < 1e-4) return;
          const apart = (other.lobes[k]!.phase_deg! - lobe.phase_deg! - turned) * lobe.order;
          expect(Math.abs(Math.sin((apart * Math.PI) / 360))).toBeLessThan(1e-7);
        });
      }),
      once,
    );
  });

  it('finds what was put in, from uneven stations too', () => {
    const wave = (deg: number) =>
      1600 + 0.5 * Math.cos(((deg - 30) * Math.PI) / 180) + 0.1 * Math.cos((3 * (deg - 100) * Math.PI) / 180);
    const stations = [0, 20, 47, 81, 110, 150, 199, 230, 260, 300, 333].map((angle_deg) => ({
      angle_deg,
      radius_mm: wave(angle_deg),
    }));
    const result = resultOf(lobes, { stations, orders: [3] });
    expect(result.lobes.map((l) => l.order)).toEqual([1, 3]);
    expect(result.eccentricity_mm).toBeCloseTo(0.5, 10);
    expect(result.eccentricity_angle_deg).toBeCloseTo(30, 8);
    expect(result.lobes[1]!.phase_deg).toBeCloseTo(100, 8);
  });

  it('has no phase where there is no lobe', () => {
    const stations = [0, 90, 180, 270].map((angle_deg) => ({ angle_deg, radius_mm: 5 }));
    expect(resultOf(lobes, { stations })).toMatchObject({ eccentricity_mm: 0, eccentricity_angle_deg: null });
  });

  const round = (...angles: number[]) => angles.map((angle_deg) => ({ angle_deg, radius_mm: 5 }));
  it.each([
    [{ stations: round(0, 90, 180), orders: 2 }, 'orders', '3 distinct angles allow orders up to 1: order 2 needs 5'],
    [{ stations: round(0, 360, 180) }, 'stations', 'has 2 distinct angles: order 1 needs at least 3'],
    [
      { stations: [...round(0, 90, 180), { angle_deg: 270, radius_mm: 0 }] },
      'stations.3.radius_mm',
      'must be greater than 0: a radius',
    ],
    [
      {
        stations: [0, 90, 180, 270].map((a) => ({ angle_deg: a, radius_mm: 100 + 2 * Math.cos((a * Math.PI) / 180) })),
      },
      'stations',
      'are 2 mm off centre, above 1 % of the radius: use circle-fit',
    ],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(lobes, input)).toEqual({ path, message });
  });
});
