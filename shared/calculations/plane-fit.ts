import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, workedOut } from './calculation.ts';
import { finite } from './fields.ts';
import { chebyshevFit } from './numeric/chebyshev-fit.ts';
import { directionDeg } from './numeric/shape-degrees.ts';

const input = z.strictObject({
  points: z.array(z.tuple([finite(), finite(), finite()])).check(z.minLength(3)),
});
const output = z.strictObject({
  slope_x: z.number(),
  slope_y: z.number(),
  offset_mm: z.number(),
  tilt_mm_per_m: z.number(),
  tilt_direction_deg: z.nullable(z.number()),
  flatness_least_squares_mm: z.number(),
  flatness_minimum_zone_mm: z.number(),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Beyond this slope a distance along z is no longer the flatness of the surface (cosine 0.99875). */
const STEEPEST = 0.05;
/** Plan points within this share of their extent about a line leave the plane free to turn about it. */
const THINNEST = 1e-9;
/** A tilt below this share of the spread of z is rounding: the plane is level. */
const LEVEL = 1e-12;

/** Points about their centre, in plan divided by their extent, z divided by its spread. */
interface Centred {
  readonly centre: readonly [number, number, number];
  readonly extent: number;
  readonly spread: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

/** Differences to the first point are nearly exact; the mean of them then loses nothing to a far origin. */
function aboutMean(values: readonly number[]): { mean: number; about: Float64Array; greatest: number } {
  const first = values[0]!;
  const about = Float64Array.from(values, (value) => value - first);
  const mean = about.reduce((sum, d) => sum + d / about.length, 0);
  let greatest = 0;
  for (let i = 0; i < about.length; i++) {
    about[i] = about[i]! - mean;
    greatest = Math.max(greatest, Math.abs(about[i]!));
  }
  return { mean: first + mean, about, greatest };
}

function centredPoints(points: Input['points']): Centred {
  const x = aboutMean(points.map((p) => p[0]));
  const y = aboutMean(points.map((p) => p[1]));
  const height = aboutMean(points.map((p) => p[2]));
  const extent = Math.max(x.greatest, y.greatest);
  if (!Number.isFinite(extent) || !Number.isFinite(height.greatest))
    throw new RefusedInput('points', 'lie too far apart to be computed');
  if (extent < 1e-150) throw new RefusedInput('points', 'lie on one line in plan: no plane is fixed by them');
  const spread = height.greatest > 1e-150 ? height.greatest : 1;
  return {
    centre: [x.mean, y.mean, height.mean],
    extent,
    spread,
    x: x.about.map((d) => d / extent),
    y: y.about.map((d) => d / extent),
    z: height.about.map((d) => d / spread),
  };
}

const dot = (a: Float64Array, b: Float64Array): number => a.reduce((sum, d, i) => sum + d * b[i]!, 0);

/** Two columns at right angles that span the plan: the longer of x and y, and what is left of the other. */
interface Columns {
  readonly xFirst: boolean;
  readonly first: Float64Array;
  readonly second: Float64Array;
  /** Of the other coordinate on the first. */
  readonly share: number;
}

function orthogonal(p: Centred): Columns {
  const xFirst = dot(p.x, p.x) >= dot(p.y, p.y);
  const [first, other] = xFirst ? [p.x, p.y] : [p.y, p.x];
  const share = dot(first, other) / dot(first, first);
  const second = other.map((d, i) => d - share * first[i]!);
  const widest = second.reduce((most, d) => Math.max(most, Math.abs(d)), 0) / Math.hypot(1, share);
  if (widest <= THINNEST) throw new RefusedInput('points', 'lie on one line in plan: no plane is fixed by them');
  return { xFirst, first, second, share };
}

function slopes(c: Columns, residuals: Float64Array): [number, number] {
  const onSecond = dot(c.second, residuals) / dot(c.second, c.second);
  const onFirst = dot(c.first, residuals) / dot(c.first, c.first) - c.share * onSecond;
  return c.xFirst ? [onFirst, onSecond] : [onSecond, onFirst];
}

const residualsOf = (p: Centred, sx: number, sy: number): Float64Array =>
  p.z.map((height, i) => height - sx * p.x[i]! - sy * p.y[i]!);

function range(values: Float64Array): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return high - low;
}

/** The least zone between two parallel planes, along z, from the residuals of a plane near it. */
function leastZone(c: Columns, residuals: Float64Array): number {
  const plane = chebyshevFit([c.first, c.second, new Float64Array(residuals.length).fill(1)], residuals);
  if (plane === null)
    throw new RefusedInput('points', 'lead to no minimum zone: the exchange of support points did not end');
  return 2 * Math.abs(plane.half);
}

/** The plane through measured heights: its tilt and its flatness, along z. */
export const planeFit = defineCalculation<Input, Output>({
  name: 'plane-fit',
  title: 'Plane, tilt and flatness',
  group: 'Measuring and judging',
  source: 'ISO 12781-1:2011, least squares and minimum zone reference planes; Stiefel, Numer. Math. 1 (1959), exchange',
  formula:
    'z = offset + s_x x + s_y y; least Σ residual² (least squares), least (greatest − least residual) (minimum zone)',
  validity: `Residuals are taken along z, so slopes up to ${STEEPEST} are taken. The tilt points downhill.`,
  version: 1,
  input,
  output,
  compute({ points }) {
    const p = centredPoints(points);
    const columns = orthogonal(p);
    const [firstX, firstY] = slopes(columns, p.z);
    // A second pass on the residuals takes back what the first lost to rounding.
    const [moreX, moreY] = slopes(columns, residualsOf(p, firstX, firstY));
    const [sx, sy] = [firstX + moreX, firstY + moreY];
    const residuals = residualsOf(p, sx, sy);
    const toSlope = p.spread / p.extent;
    const [slope_x, slope_y] = [sx * toSlope, sy * toSlope];
    const slope = Math.hypot(slope_x, slope_y);
    if (!(slope <= STEEPEST))
      throw new RefusedInput(
        'points',
        `lie on a slope of ${Number.isFinite(slope) ? figure(slope, 3) : 'more than can be told'}, above ${STEEPEST}: turn them level before the fit`,
      );
    const flatness_least_squares_mm = range(residuals) * p.spread;
    return {
      slope_x,
      slope_y,
      offset_mm: p.centre[2] - slope_x * p.centre[0] - slope_y * p.centre[1],
      tilt_mm_per_m: 1000 * slope,
      tilt_direction_deg: Math.hypot(sx, sy) <= LEVEL ? null : directionDeg(-slope_x, -slope_y),
      flatness_least_squares_mm,
      flatness_minimum_zone_mm: Math.min(flatness_least_squares_mm, leastZone(columns, residuals) * p.spread),
    };
  },
  working(i, o) {
    return [
      given('n', 'points', i.points.length, ''),
      workedOut(
        's_x',
        'slope along x',
        o.slope_x,
        'mm/mm',
        'least squares of z about the centre of the points',
        'ISO 12781-1',
      ),
      workedOut(
        's_y',
        'slope along y',
        o.slope_y,
        'mm/mm',
        'least squares of z about the centre of the points',
        'ISO 12781-1',
      ),
      workedOut('offset', 'height of the plane at x = 0, y = 0', o.offset_mm, 'mm', 'mean z − s_x mean x − s_y mean y'),
      workedOut(
        'tilt',
        'steepest slope',
        o.tilt_mm_per_m,
        'mm/m',
        `1000 · √(${figure(o.slope_x)}² + ${figure(o.slope_y)}²)`,
      ),
      workedOut(
        'direction',
        'downhill, counter-clockwise from +x',
        o.tilt_direction_deg,
        '°',
        o.tilt_direction_deg === null ? 'level: no direction' : 'atan2(−s_y, −s_x)',
      ),
      workedOut(
        'FLT least squares',
        'highest less lowest residual about that plane',
        o.flatness_least_squares_mm,
        'mm',
        'greatest − least of z − offset − s_x x − s_y y',
        'ISO 12781-1',
      ),
      workedOut(
        'FLT minimum zone',
        'least height between two parallel planes that hold all points',
        o.flatness_minimum_zone_mm,
        'mm',
        'exchange of four support points until none lies outside',
        'ISO 12781-1',
      ),
    ];
  },
});
