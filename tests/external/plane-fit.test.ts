import fc from 'fast-check';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { planeFit } from '../../shared/calculations/plane-fit.ts';
import { seeded } from '../calculations/random-input.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

type Point = [number, number, number];
const coordinate = fc.integer({ min: -1000, max: 1000 });
const surface = (most: number) =>
  fc
    .array(fc.tuple(coordinate, coordinate, coordinate), { minLength: 5, maxLength: most })
    .map((list) => list.map(([x, y, z]): Point => [x, y, z / 1000]))
    // Spread in plan, so that no slope comes near the limit.
    .map((list): Point[] => [...list, [-1000, -1000, 0], [1000, -1000, 0], [0, 1000, 0]]);
const once = { seed: 1, numRuns: 60, endOnFailure: true };

describeOutsideChecks(planeFit);

interface Four {
  points: Point[];
  /** Which side of the middle plane each of them lies on, 0 where it does not matter. */
  signs: number[];
  width: number;
}

/** Four points fix the least zone: those four of all that need the widest. */
function worstFour(points: Point[]): Four {
  let worst: Four = { points: [], signs: [], width: 0 };
  const area = (a: Point, b: Point, c: Point) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
  const n = points.length;
  for (let i = 0; i < n; i++)
    for (let j = i + 1; j < n; j++)
      for (let k = j + 1; k < n; k++)
        for (let l = k + 1; l < n; l++) {
          const [a, b, c, d] = [points[i]!, points[j]!, points[k]!, points[l]!];
          const weights = [area(b, c, d), -area(a, c, d), area(a, b, d), -area(a, b, c)];
          const size = weights.reduce((sum, w) => sum + Math.abs(w), 0);
          const lift = weights[0]! * a[2] + weights[1]! * b[2] + weights[2]! * c[2] + weights[3]! * d[2];
          const width = size > 0 ? (2 * Math.abs(lift)) / size : 0;
          if (width > worst.width)
            worst = { points: [a, b, c, d], signs: weights.map((w) => Math.sign(w * lift)), width };
        }
  return worst;
}

/** The least zone by exchange: the plane of the worst four of a few, then the point farthest from it joins the few. */
function zoneByExchange(points: Point[]): number {
  const few = points.slice(0, 6);
  for (;;) {
    const { points: four, signs, width } = worstFour(few);
    const [slopeX, slopeY, offset] = solve(
      new Matrix(four.map(([x, y], k) => [x, y, 1, signs[k]!])),
      Matrix.columnVector(four.map((p) => p[2])),
    ).to1DArray() as [number, number, number, number];
    const away = ([x, y, z]: Point) => Math.abs(z - slopeX * x - slopeY * y - offset);
    const farthest = points.reduce((one, other) => (away(other) > away(one) ? other : one));
    if (away(farthest) <= width / 2 + 1e-12 || few.includes(farthest)) return width;
    few.push(farthest);
  }
}

describe('plane-fit', () => {
  it('agrees with the least squares of ml-matrix', () => {
    fc.assert(
      fc.property(surface(40), (points) => {
        const result = resultOf(planeFit, { points });
        const oracle = solve(
          new Matrix(points.map(([x, y]) => [x, y, 1])),
          Matrix.columnVector(points.map((p) => p[2])),
          true,
        );
        expect(result.slope_x).toBeCloseTo(oracle.get(0, 0), 12);
        expect(result.slope_y).toBeCloseTo(oracle.get(1, 0), 12);
        expect(result.offset_mm).toBeCloseTo(oracle.get(2, 0), 10);
      }),
      once,
    );
  });

  it('finds the zone that the worst four points need, and no wider', () => {
    fc.assert(
      fc.property(surface(9), (points) => {
        const result = resultOf(planeFit, { points });
        expect(result.flatness_minimum_zone_mm).toBeCloseTo(worstFour(points).width, 10);
        expect(result.flatness_minimum_zone_mm).toBeLessThanOrEqual(result.flatness_least_squares_mm);
      }),
      once,
    );
  });

  it.each([60, 500, 2000])('finds the zone of %d points that an exchange of four points finds', (count) => {
    const random = seeded(count);
    const points = Array.from({ length: count }, (): Point => {
      const [x, y] = [2000 * random() - 1000, 2000 * random() - 1000];
      return [x, y, 0.01 * x - 0.003 * y + 0.2 * random() + 1e-7 * (x * x - y * y)];
    });
    const least = zoneByExchange(points);
    expect(resultOf(planeFit, { points }).flatness_minimum_zone_mm).toBeCloseTo(least, 10);
    const far = points.map(([x, y, z]): Point => [x + 1e6, y - 1e6, z]).toReversed();
    expect(resultOf(planeFit, { points: far }).flatness_minimum_zone_mm).toBeCloseTo(least, 9);
  });

  it('does not depend on the order or the origin, and a tilt is only added to it', () => {
    fc.assert(
      fc.property(surface(40), (points) => {
        const one = resultOf(planeFit, { points });
        const moved = points.map(([x, y, z]): Point => [x + 1e6, y - 1e6, z + 0.01 * x - 0.02 * y + 5]).toReversed();
        const other = resultOf(planeFit, { points: moved });
        expect(other.slope_x - 0.01).toBeCloseTo(one.slope_x, 12);
        expect(other.slope_y + 0.02).toBeCloseTo(one.slope_y, 12);
        expect(other.flatness_minimum_zone_mm).toBeCloseTo(one.flatness_minimum_zone_mm, 9);
        expect(other.flatness_least_squares_mm).toBeCloseTo(one.flatness_least_squares_mm, 9);
      }),
      once,
    );
  });

  it('points downhill', () => {
    const plane = (sx: number, sy: number): Point[] =>
      [
        [0, 0],
        [1000, 0],
        [0, 1000],
        [1000, 1000],
      ].map(([x, y]) => [x!, y!, sx * x! + sy * y!]);
    const east = resultOf(planeFit, { points: plane(-0.001, 0) });
    expect(east.tilt_direction_deg).toBeCloseTo(0, 9);
    expect(east.tilt_mm_per_m).toBeCloseTo(1, 12);
    expect(resultOf(planeFit, { points: plane(0, 0.001) }).tilt_direction_deg).toBeCloseTo(270, 9);
    expect(resultOf(planeFit, { points: plane(0, 0) }).tilt_direction_deg).toBeNull();
  });

  it('takes 2,000 points, most of them equally far from the plane, in good time', () => {
    const points = Array.from({ length: 2000 }, (_, k): Point => [k % 50, Math.floor(k / 50), ((k * 7) % 11) / 10]);
    const start = performance.now();
    const result = resultOf(planeFit, { points });
    expect(performance.now() - start).toBeLessThan(2000);
    expect(result.flatness_minimum_zone_mm).toBeLessThanOrEqual(1 + 1e-12);
  });

  it.each([
    [
      {
        points: [
          [0, 0, 0],
          [1, 1, 0],
        ],
      },
      'points',
      'needs at least 3',
    ],
    [
      {
        points: [
          [0, 0, 0],
          [1, 1, 5],
          [2, 2, 0],
        ],
      },
      'points',
      'lie on one line in plan: no plane is fixed by them',
    ],
    [
      {
        points: [
          [0, 0, 0],
          [1, 0, 0.1],
          [0, 1, 0],
        ],
      },
      'points',
      'lie on a slope of 0.1, above 0.05: turn them level before the fit',
    ],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(planeFit, input)).toEqual({ path, message });
  });
});
