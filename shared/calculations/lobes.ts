import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, type WorkingLine, workedOut } from './calculation.ts';
import { finite, positive } from './fields.ts';
import { householderSolve } from './numeric/householder-solve.ts';
import { unitVector } from './numeric/shape-degrees.ts';
import { wrapDeg } from './numeric/wrap-deg.ts';

const order = () => z.int().check(z.gte(1, 'must be at least 1'), z.lte(100, 'must be at most 100'));
const input = z.strictObject({
  stations: z
    .array(z.strictObject({ angle_deg: finite(), radius_mm: positive('must be greater than 0: a radius') }))
    .check(z.minLength(3)),
  /** The highest order, or a list of orders. */
  orders: z.optional(z.union([order(), z.array(order())])),
});
const output = z.strictObject({
  mean_radius_mm: z.number(),
  eccentricity_mm: z.number(),
  eccentricity_angle_deg: z.nullable(z.number()),
  lobes: z.array(z.strictObject({ order: z.int(), amplitude_mm: z.number(), phase_deg: z.nullable(z.number()) })),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

const USUAL_HIGHEST = 6;
/** Beyond this share of the radius r(θ) of a shifted circle is no longer its first harmonic. */
const LARGEST_ECCENTRICITY = 0.01;
/** An amplitude below this share of the radius is rounding and has no phase. */
const NOTHING = 1e-13;

const distinctAngles = (i: Input): number => new Set(i.stations.map((s) => wrapDeg(s.angle_deg))).size;

/** Order 1 and all that are asked for, each once and in order. */
function ordersOf(i: Input, distinct: number): number[] {
  const most = Math.floor((distinct - 1) / 2);
  const asked = i.orders ?? Math.min(USUAL_HIGHEST, most);
  const list = typeof asked === 'number' ? Array.from({ length: asked }, (_, k) => k + 1) : asked;
  const orders = [...new Set([1, ...list])].sort((a, b) => a - b);
  const highest = orders.at(-1)!;
  if (most < 1) throw new RefusedInput('stations', `has ${distinct} distinct angles: order 1 needs at least 3`);
  if (highest > most)
    throw new RefusedInput(
      'orders',
      `${distinct} distinct angles allow orders up to ${most}: order ${highest} needs ${2 * highest + 1}`,
    );
  return orders;
}

/** Mean radius and the cosine and sine part of each order, all together. */
function harmonics(i: Input, orders: readonly number[]): { mean: number; parts: [number, number][] } {
  const first = i.stations[0]!.radius_mm;
  const vectors = (k: number) => i.stations.map((s) => unitVector(wrapDeg(s.angle_deg) * k));
  const columns = [
    new Float64Array(i.stations.length).fill(1),
    ...orders.flatMap((k) => [Float64Array.from(vectors(k), (v) => v[0]), Float64Array.from(vectors(k), (v) => v[1])]),
  ];
  const solution = householderSolve(
    columns,
    Float64Array.from(i.stations, (s) => s.radius_mm - first),
  );
  if (solution === null)
    throw new RefusedInput('stations', 'lie at angles too close together to tell the orders apart');
  return {
    mean: first + solution[0]!,
    parts: orders.map((_, k) => [solution[2 * k + 1]!, solution[2 * k + 2]!]),
  };
}

/** Eccentricity and lobes of a turned or built round, from radii at stations. */
export const lobes = defineCalculation<Input, Output>({
  name: 'lobes',
  title: 'Eccentricity and lobes',
  group: 'Measuring and judging',
  source:
    'ISO 12181-1:2011 and ISO/TS 12181-2, undulations per revolution; least squares after Golub, Numer. Math. 7 (1965)',
  formula: 'r(θ) = mean + Σ A_k cos k(θ − φ_k), least squares over all orders together',
  validity: `Eccentricity up to ${100 * LARGEST_ECCENTRICITY} % of the radius. Lobes of orders left out go into those fitted where stations are few or uneven.`,
  version: 1,
  input,
  output,
  compute(i) {
    const orders = ordersOf(i, distinctAngles(i));
    const { mean, parts } = harmonics(i, orders);
    if (!(mean > 0))
      throw new RefusedInput('stations', 'lead to a mean radius of 0 or less: the radii do not go together');
    const found = orders.map((order, k) => {
      const [a, b] = parts[k]!;
      const amplitude_mm = Math.hypot(a, b);
      const turned = (Math.atan2(b, a) * 180) / Math.PI / order;
      return { order, amplitude_mm, phase_deg: amplitude_mm <= NOTHING * mean ? null : wrapDeg(turned, 360 / order) };
    });
    const { amplitude_mm: eccentricity_mm, phase_deg: eccentricity_angle_deg } = found[0]!;
    if (eccentricity_mm > LARGEST_ECCENTRICITY * mean)
      throw new RefusedInput(
        'stations',
        `are ${figure(eccentricity_mm)} mm off centre, above 1 % of the radius: use circle-fit`,
      );
    return { mean_radius_mm: mean, eccentricity_mm, eccentricity_angle_deg, lobes: found };
  },
  working(i, o) {
    return [
      given('n', 'stations', i.stations.length, ''),
      given(
        'k',
        'orders fitted',
        o.lobes.map((l) => l.order).join(', '),
        '',
        i.orders === undefined ? 'usual' : 'given',
      ),
      workedOut('mean', 'mean radius', o.mean_radius_mm, 'mm', 'least squares with all orders together'),
      ...o.lobes.flatMap(({ order, amplitude_mm, phase_deg }): WorkingLine[] => [
        workedOut(
          `A${order}`,
          order === 1 ? 'eccentricity' : `amplitude of ${order} lobes`,
          amplitude_mm,
          'mm',
          '√(a² + b²) of a cos kθ + b sin kθ',
          'ISO 12181-1',
        ),
        workedOut(
          `φ${order}`,
          'angle of a crest',
          phase_deg,
          '°',
          phase_deg === null ? 'nothing to point at' : 'atan2(b, a)/k',
        ),
      ]),
    ];
  },
});
