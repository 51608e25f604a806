import * as z from 'zod/mini';
import { defineCalculation, given, RefusedInput, workedOut } from './calculation.ts';
import { finite } from './fields.ts';
import { circumscribedCircle } from './numeric/circle-circumscribed.ts';
import { inscribedCircle } from './numeric/circle-inscribed.ts';
import { leastSquaresCircle } from './numeric/circle-least-squares.ts';
import { minimumZone } from './numeric/circle-minimum-zone.ts';
import { type Circle, distances, modelOf } from './numeric/circle-model.ts';
import { type PlanPoints, planPoints } from './numeric/plan-points.ts';

const input = z.strictObject({
  points: z.array(z.tuple([finite(), finite()])).check(z.minLength(3)),
});
const circle = z.strictObject({ x_mm: z.number(), y_mm: z.number(), radius_mm: z.number() });
const output = z.strictObject({
  least_squares: z.strictObject({
    x_mm: z.number(),
    y_mm: z.number(),
    radius_mm: z.number(),
    roundness_mm: z.number(),
  }),
  minimum_zone: z.strictObject({
    x_mm: z.nullable(z.number()),
    y_mm: z.nullable(z.number()),
    roundness_mm: z.number(),
    inner_radius_mm: z.nullable(z.number()),
    outer_radius_mm: z.nullable(z.number()),
  }),
  circumscribed: circle,
  inscribed: circle,
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Points within this share of their extent about a line are on it. */
const THINNEST = 1e-9;

function checkedPoints(points: Input['points']): PlanPoints {
  const p = planPoints(points);
  if (p === null) throw new RefusedInput('points', 'lie too close together or too far apart to be computed');
  if (p.distinct < 3) throw new RefusedInput('points', 'needs at least 3 distinct points');
  if (p.width <= THINNEST) throw new RefusedInput('points', 'lie on one line: no circle goes through them');
  return p;
}

const atScale = (p: PlanPoints, c: { x: number; y: number }) => ({
  x_mm: p.middle[0] + c.x * p.extent,
  y_mm: p.middle[1] + c.y * p.extent,
});

function circleAtScale(p: PlanPoints, c: Circle) {
  return { ...atScale(p, c), radius_mm: c.radius * p.extent };
}

function roundness(p: PlanPoints, c: Circle): number {
  const residuals = distances(modelOf(c, p.x, p.y), p.x, p.y);
  const high = residuals.reduce((most, d) => Math.max(most, d), Number.NEGATIVE_INFINITY);
  const low = residuals.reduce((least, d) => Math.min(least, d), Number.POSITIVE_INFINITY);
  return (high - low) * p.extent;
}

/** The four reference circles of measured points and their roundness. */
export const circleFit = defineCalculation<Input, Output>({
  name: 'circle-fit',
  title: 'Circle and roundness',
  group: 'Measuring and judging',
  source:
    'ISO 12181-1:2011, the four reference circles; Gander, Golub and Strebel, BIT 34 (1994), geometric least squares; Skyum (1991) and Toussaint (1983) for the extremal circles',
  formula:
    'd_i = √((x_i − x)² + (y_i − y)²); least Σ(d_i − R)² (least squares), least max d − min d (minimum zone), least max d (circumscribed), greatest min d (inscribed)',
  validity:
    'Points that do not lie on a line. Roundness is that of the points measured: what lies between them is not seen.',
  version: 1,
  input,
  output,
  compute({ points }) {
    const p = checkedPoints(points);
    const best = leastSquaresCircle(p);
    if (best === null)
      throw new RefusedInput('points', 'lie about a line so evenly that no circle fits them better than the line');
    const zone = minimumZone(p, best);
    const finiteZone = 'outer' in zone ? zone : null;
    return {
      least_squares: { ...circleAtScale(p, best), roundness_mm: roundness(p, best) },
      minimum_zone: {
        ...(finiteZone ? atScale(p, finiteZone) : { x_mm: null, y_mm: null }),
        roundness_mm: zone.width * p.extent,
        inner_radius_mm: finiteZone ? finiteZone.inner * p.extent : null,
        outer_radius_mm: finiteZone ? finiteZone.outer * p.extent : null,
      },
      circumscribed: circleAtScale(p, circumscribedCircle(p)),
      inscribed: circleAtScale(p, inscribedCircle(p, best)),
    };
  },
  working(i, o) {
    const centre = (of: string, c: { x_mm: number | null; y_mm: number | null }, how: string) => [
      workedOut(`x ${of}`, `centre of the ${of} circle`, c.x_mm, 'mm', how, 'ISO 12181-1'),
      workedOut(`y ${of}`, `centre of the ${of} circle`, c.y_mm, 'mm', how, 'ISO 12181-1'),
    ];
    const { least_squares: ls, minimum_zone: mz, circumscribed: out, inscribed: inn } = o;
    return [
      given('n', 'points', i.points.length, ''),
      ...centre('least-squares', ls, 'least Σ(d_i − R)² over centre and radius'),
      workedOut('R', 'radius of the least-squares circle', ls.radius_mm, 'mm', 'mean of d_i'),
      workedOut('RONt least squares', 'roundness', ls.roundness_mm, 'mm', 'greatest d_i − least d_i', 'ISO 12181-1'),
      ...centre(
        'minimum-zone',
        mz,
        mz.x_mm === null ? 'least at infinity: two parallel lines' : 'least (max d_i − min d_i)',
      ),
      workedOut('RONt minimum zone', 'roundness', mz.roundness_mm, 'mm', 'greatest d_i − least d_i', 'ISO 12181-1'),
      ...centre('circumscribed', out, 'least max d_i'),
      workedOut('R circumscribed', 'its radius', out.radius_mm, 'mm', 'greatest d_i from that centre', 'ISO 12181-1'),
      ...centre('inscribed', inn, 'greatest min d_i with the centre in the convex hull'),
      workedOut('R inscribed', 'its radius', inn.radius_mm, 'mm', 'least d_i from that centre', 'ISO 12181-1'),
    ];
  },
});
