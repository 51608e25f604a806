import fc from 'fast-check';
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { describe, expect, it } from 'vitest';
import { circleFit } from '../../shared/calculations/circle-fit.ts';
import { seeded } from '../calculations/random-input.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

type Point = [number, number];

/** Points near a circle of radius 1000 at about even angles over `span` degrees, each off by up to `noise`. */
const roundish = (least: number, most: number, span: number, noise: number) =>
  fc
    .array(fc.tuple(fc.integer({ min: -1000, max: 1000 }), fc.integer({ min: 0, max: 900 })), {
      minLength: least,
      maxLength: most,
    })
    .map((draws) =>
      draws.map(([off, along], k): Point => {
        const angle = (((k + along / 1000) * span) / draws.length / 180) * Math.PI;
        const radius = 1000 + (off / 1000) * noise;
        return [radius * Math.cos(angle), radius * Math.sin(angle)];
      }),
    );

const distancesFrom = (points: Point[], x: number, y: number) => points.map(([px, py]) => Math.hypot(px - x, py - y));
const spread = (points: Point[], x: number, y: number) => {
  const d = distancesFrom(points, x, y);
  return Math.max(...d) - Math.min(...d);
};

/** Where the bisectors of two pairs of points meet; every best centre of a zone or a circle is one of these. */
function meetings(points: Point[]): Point[] {
  const bisectors = points.flatMap((p, i) =>
    points
      .slice(i + 1)
      .map((q) => [q[0] - p[0], q[1] - p[1], (q[0] ** 2 + q[1] ** 2 - p[0] ** 2 - p[1] ** 2) / 2] as const),
  );
  return bisectors.flatMap((one, i) =>
    bisectors.slice(i + 1).flatMap((other): Point[] => {
      const det = one[0] * other[1] - one[1] * other[0];
      const at: Point = [(one[2] * other[1] - one[1] * other[2]) / det, (one[0] * other[2] - one[2] * other[0]) / det];
      return Math.abs(at[0]) < 1e7 && Math.abs(at[1]) < 1e7 ? [at] : [];
    }),
  );
}

const once = { seed: 1, numRuns: 20, endOnFailure: true };

describeOutsideChecks(circleFit);

describe('circle-fit', () => {
  it('finds the least zone and the least circle of all that pairs and triples of points allow', () => {
    fc.assert(
      fc.property(fc.oneof(roundish(4, 9, 360, 10), roundish(4, 9, 90, 10), roundish(4, 9, 360, 600)), (points) => {
        const result = resultOf(circleFit, { points });
        const candidates = meetings(points);
        const least = Math.min(...candidates.map(([x, y]) => spread(points, x, y)));
        // Where only two parallel lines are narrower the centre is null; else nothing beats the result.
        if (result.minimum_zone.x_mm !== null) expect(result.minimum_zone.roundness_mm).toBeCloseTo(least, 6);
        else expect(result.minimum_zone.roundness_mm).toBeLessThan(least + 1e-6);
        const halfway = points.flatMap((p, i) =>
          points.slice(i + 1).map((q): Point => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]),
        );
        const holding = [...candidates, ...halfway].map(([x, y]) => Math.max(...distancesFrom(points, x, y)));
        expect(result.circumscribed.radius_mm).toBeCloseTo(Math.min(...holding), 6);
      }),
      once,
    );
  });

  it('leaves no point inside the inscribed circle and no centre inside the hull with more room', () => {
    fc.assert(
      fc.property(roundish(6, 12, 360, 10), (points) => {
        const { inscribed } = resultOf(circleFit, { points });
        const nearest = (x: number, y: number) => Math.min(...distancesFrom(points, x, y));
        expect(nearest(inscribed.x_mm, inscribed.y_mm)).toBeCloseTo(inscribed.radius_mm, 7);
        // Centres within 300 of the middle lie in the hull of six points or more about the circle.
        const rooms = meetings(points).flatMap(([x, y]) => (Math.hypot(x, y) < 300 ? [nearest(x, y)] : []));
        expect(Math.max(...rooms)).toBeLessThanOrEqual(inscribed.radius_mm + 1e-7);
      }),
      once,
    );
  });

  it('agrees with the Levenberg-Marquardt of ml-levenberg-marquardt', () => {
    fc.assert(
      fc.property(roundish(8, 30, 360, 10), (points) => {
        const { least_squares: fit } = resultOf(circleFit, { points });
        const oracle = levenbergMarquardt(
          { x: points.map((_, k) => k), y: points.map(() => 0) },
          ([x, y, r]) =>
            (k) =>
              Math.hypot(points[k]![0] - x!, points[k]![1] - y!) - r!,
          { initialValues: [0, 0, 1000], maxIterations: 200, gradientDifference: 1e-4, errorTolerance: 1e-14 },
        ).parameterValues;
        expect(fit.x_mm).toBeCloseTo(oracle[0]!, 3);
        expect(fit.y_mm).toBeCloseTo(oracle[1]!, 3);
        expect(fit.radius_mm).toBeCloseTo(oracle[2]!, 3);
      }),
      once,
    );
  });

  it('has no gradient left: the residuals of the least squares balance', () => {
    fc.assert(
      fc.property(fc.oneof(roundish(4, 40, 360, 50), roundish(4, 40, 20, 0.1)), (points) => {
        const { least_squares: fit } = resultOf(circleFit, { points });
        let [along, across, sum] = [0, 0, 0];
        for (const [x, y] of points) {
          const distance = Math.hypot(x - fit.x_mm, y - fit.y_mm);
          const residual = distance - fit.radius_mm;
          sum += residual;
          along += (residual * (x - fit.x_mm)) / distance;
          across += (residual * (y - fit.y_mm)) / distance;
        }
        for (const rest of [sum, along, across]) expect(Math.abs(rest)).toBeLessThan(1e-9);
      }),
      once,
    );
  });

  it('does not depend on the order, moves with the points and turns with them', () => {
    fc.assert(
      fc.property(roundish(5, 30, 360, 5), fc.integer({ min: 0, max: 359 }), (points, degrees) => {
        const one = resultOf(circleFit, { points });
        expect(resultOf(circleFit, { points: points.toReversed() })).toEqual(one);
        const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
        const turned = points.map(([x, y]): Point => [c * x - s * y + 1e6, s * x + c * y - 1e6]);
        const other = resultOf(circleFit, { points: turned });
        expect(other.least_squares.roundness_mm).toBeCloseTo(one.least_squares.roundness_mm, 7);
        expect(other.minimum_zone.roundness_mm).toBeCloseTo(one.minimum_zone.roundness_mm, 7);
        expect(other.circumscribed.radius_mm).toBeCloseTo(one.circumscribed.radius_mm, 7);
        expect(other.inscribed.radius_mm).toBeCloseTo(one.inscribed.radius_mm, 7);
        const { x_mm, y_mm } = one.least_squares;
        expect(other.least_squares.x_mm).toBeCloseTo(c * x_mm - s * y_mm + 1e6, 6);
        expect(other.least_squares.y_mm).toBeCloseTo(s * x_mm + c * y_mm - 1e6, 6);
      }),
      once,
    );
  });

  it.each([
    [360, 0],
    [360, 1],
    [10, 0],
    [10, 0.1],
  ])('fits 2,000 points over %d degrees with a wave of %d in good time', (span, wave) => {
    const points = Array.from({ length: 2000 }, (_, k): Point => {
      const angle = (k / 2000) * (span / 180) * Math.PI;
      // 277 waves a turn, so that extremes lie all along.
      const radius = 1600 + wave * Math.cos(277 * angle);
      return [1e6 + radius * Math.cos(angle), radius * Math.sin(angle)];
    });
    const start = performance.now();
    const result = resultOf(circleFit, { points });
    expect(performance.now() - start).toBeLessThan(4000);
    expect(result.minimum_zone.roundness_mm).toBeLessThanOrEqual(2 * wave + 1e-8);
    if (wave === 0) expect(result.least_squares.radius_mm).toBeCloseTo(1600, 5);
  });

  it.each([
    [40, 360, 0],
    [300, 360, 1e6],
    [2000, 360, 1e6],
    [2000, 120, 1e6],
    [2000, 30, -1e6],
  ])('has no better zone or circle among %d noisy points over %d degrees at %d mm', (count, span, offset) => {
    const random = seeded(count + span);
    const points = Array.from({ length: count }, (): Point => {
      const angle = ((random() * span) / 180) * Math.PI;
      const radius = 1000 + random();
      return [offset + radius * Math.cos(angle), radius * Math.sin(angle) - offset];
    });
    const { minimum_zone: zone, circumscribed, least_squares: fit } = resultOf(circleFit, { points });
    // All points lie in the zone, and the few that touch it allow none narrower: so neither do all. Worked out near
    // the origin, to 1e-9 of the extent.
    const near = points.map(([x, y]): Point => [x - offset, y + offset]);
    const [x, y] = [(zone.x_mm as number) - offset, (zone.y_mm as number) + offset];
    const [outer, inner] = [zone.outer_radius_mm as number, zone.inner_radius_mm as number];
    expect(Math.abs(spread(near, x, y) - zone.roundness_mm)).toBeLessThan(2e-6);
    const touches = (radius: number, at: Point) => (p: Point) =>
      Math.abs(Math.hypot(p[0] - at[0], p[1] - at[1]) - radius) < 2e-6;
    const zoneSupport = near.filter((p) => touches(outer, [x, y])(p) || touches(inner, [x, y])(p));
    expect(zoneSupport.length).toBeGreaterThanOrEqual(4);
    const narrowest = Math.min(...meetings(zoneSupport).map(([u, v]) => spread(zoneSupport, u, v)));
    expect(Math.abs(narrowest - zone.roundness_mm)).toBeLessThan(2e-6);
    const centre: Point = [circumscribed.x_mm - offset, circumscribed.y_mm + offset];
    expect(Math.max(...distancesFrom(near, ...centre)) - circumscribed.radius_mm).toBeLessThan(2e-6);
    const support = near.filter(touches(circumscribed.radius_mm, centre));
    const halfway = support.flatMap((p, i) =>
      support.slice(i + 1).map((q): Point => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]),
    );
    const holding = [...halfway, ...(support.length > 2 ? meetings(support) : [])].map(([u, v]) =>
      Math.max(...distancesFrom(support, u, v)),
    );
    expect(Math.abs(Math.min(...holding) - circumscribed.radius_mm)).toBeLessThan(2e-6);
    // The sums that vanish at the least squares, against the largest they could be.
    const sums = near.reduce(
      ([a, b, c], [u, v]) => {
        const [dx, dy] = [u - (fit.x_mm - offset), v - (fit.y_mm + offset)];
        const distance = Math.hypot(dx, dy);
        const off = distance - fit.radius_mm;
        return [a + off, b + (off * dx) / distance, c + (off * dy) / distance] as const;
      },
      [0, 0, 0] as readonly [number, number, number],
    );
    for (const rest of sums) expect(Math.abs(rest) / count).toBeLessThan(2e-6);
  });

  it('gives the strip where two parallel lines are narrowest', () => {
    // Ends above, middle on both sides: no circle through any of them is as narrow as the strip of 1 mm.
    const points: Point[] = [
      [0, 0],
      [8, 0],
      [20, 0],
      [0, 1],
      [11, 1],
      [20, 1],
    ];
    const { minimum_zone: zone } = resultOf(circleFit, { points });
    expect(zone.roundness_mm).toBeCloseTo(1, 12);
    expect(zone.x_mm).toBeNull();
    expect(zone.outer_radius_mm).toBeNull();
  });

  it.each([
    [
      {
        points: [
          [0, 0],
          [1, 1],
        ],
      },
      'points',
      'needs at least 3',
    ],
    [
      {
        points: [
          [0, 0],
          [1, 1],
          [1, 1],
        ],
      },
      'points',
      'needs at least 3 distinct points',
    ],
    [
      {
        points: [
          [0, 0],
          [1, 1],
          [2, 2 + 1e-10],
        ],
      },
      'points',
      'lie on one line: no circle goes through them',
    ],
    [{ points: [[0, 0], [1, 1], [2]] }, 'points.2', undefined],
  ])('refuses %j', (input, path, message) => {
    const error = errorOf(circleFit, input);
    expect(error.path).toBe(path);
    if (message !== undefined) expect(error.message).toBe(message);
  });
});
