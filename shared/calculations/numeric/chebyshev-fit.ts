import { solveLinear } from './solve-linear.ts';

/** Three columns of a linear model, a row a point. */
export type Columns = readonly [Float64Array, Float64Array, Float64Array];
type Triple = [number, number, number];

/** Coefficients of the columns that keep the greatest |z − fit| least, and that least. */
export interface ChebyshevFit {
  readonly coefficients: Triple;
  readonly half: number;
}

interface Support {
  readonly index: number;
  /** +1 above the fit, −1 below it. */
  readonly sign: 1 | -1;
}

/** Relative to the greatest |z|. */
const TOLERANCE = 1e-13;
const MOST_EXCHANGES = 20_000;
/** Exchanges that leave the distance as it was, before the rule that cannot cycle takes over. */
const PATIENCE = 20;

/**
 * Exact on its four support points: the simplex method on the dual of the linear programme
 * "least h with |z − fit| ≤ h" (Stiefel's exchange), on orthogonalised columns and scaled z.
 * @returns null where the columns depend on each other or the exchange does not end.
 */
export function chebyshevFit(columns: Columns, z: Float64Array): ChebyshevFit | null {
  const scale = greatest(z);
  if (scale === 0) return { coefficients: [0, 0, 0], half: 0 };
  const basis = orthogonalised(columns);
  if (basis === null) return null;
  const fit = exchange(
    basis.columns,
    z.map((height) => height / scale),
  );
  if (fit === null) return null;
  const back = solveLinear(basis.triangle, fit.coefficients);
  return back && { coefficients: back.map((c) => c * scale) as Triple, half: fit.half * scale };
}

const greatest = (values: Float64Array): number => values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
const dot = (a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
};

/** Columns at right angles with greatest entry 1, and the upper triangle that leads back to the given ones. */
function orthogonalised(columns: Columns): { columns: Columns; triangle: number[][] } | null {
  const made: Float64Array[] = [];
  const triangle = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ];
  for (const [k, column] of columns.entries()) {
    let rest = Float64Array.from(column);
    // Twice is enough to make the columns orthogonal to rounding (Kahan).
    for (let pass = 0; pass < 2; pass++) {
      for (const [j, earlier] of made.entries()) {
        const share = dot(earlier, rest) / dot(earlier, earlier);
        triangle[j]![k] = triangle[j]![k]! + share;
        rest = rest.map((value, i) => value - share * earlier[i]!);
      }
    }
    const size = greatest(rest);
    if (!(size > 0) || !Number.isFinite(size)) return null;
    triangle[k]![k] = size;
    made.push(rest.map((value) => value / size));
  }
  return { columns: made as unknown as Columns, triangle };
}

const row = (columns: Columns, i: number): Triple => [columns[0][i]!, columns[1][i]!, columns[2][i]!];
const valueAt = (columns: Columns, c: Triple, i: number): number =>
  c[0] * columns[0][i]! + c[1] * columns[1][i]! + c[2] * columns[2][i]!;

function exchange(columns: Columns, z: Float64Array): ChebyshevFit | null {
  const start = firstSupports(columns, z);
  if (start === null || 'half' in start) return start;
  let supports = start;
  let stalled = 0;
  let best = -1;
  for (let step = 0; step < MOST_EXCHANGES; step++) {
    const fit = fitOn(supports, columns, z);
    if (fit === null) return null;
    stalled = fit.half > best + TOLERANCE ? 0 : stalled + 1;
    best = Math.max(best, fit.half);
    const entering = worstPoint(fit, columns, z, stalled > PATIENCE);
    if (entering === null) return fit;
    const next = exchanged(supports, entering, columns, stalled > PATIENCE);
    if (next === null) return null;
    supports = next;
  }
  return null;
}

/** Three rows far from depending on each other, chosen by size and then by what is left beside those chosen. */
function independentRows(columns: Columns): number[] {
  const chosen: number[] = [];
  const rest = Array.from(columns[0], (_, i) => row(columns, i));
  const square = (r: Triple) => r[0] * r[0] + r[1] * r[1] + r[2] * r[2];
  for (let k = 0; k < 3; k++) {
    let best = 0;
    for (let i = 1; i < rest.length; i++) if (square(rest[i]!) > square(rest[best]!)) best = i;
    chosen.push(best);
    const axis: Triple = [...rest[best]!];
    const length = square(axis);
    for (const r of rest) {
      const share = length > 0 ? (r[0] * axis[0] + r[1] * axis[1] + r[2] * axis[2]) / length : 0;
      for (let j = 0; j < 3; j++) r[j] = r[j]! - share * axis[j]!;
    }
  }
  return chosen;
}

function firstSupports(columns: Columns, z: Float64Array): Support[] | ChebyshevFit | null {
  const three = independentRows(columns);
  const rows = three.map((i) => row(columns, i));
  const through = solveLinear(
    rows,
    three.map((i) => z[i]!),
  ) as Triple | null;
  if (through === null) return null;
  const residual = (i: number) => z[i]! - valueAt(columns, through, i);
  let fourth = 0;
  for (let i = 1; i < z.length; i++) if (Math.abs(residual(i)) > Math.abs(residual(fourth))) fourth = i;
  if (Math.abs(residual(fourth)) <= TOLERANCE) return { coefficients: through, half: 0 };
  const side = residual(fourth) > 0 ? 1 : -1;
  // The fourth row as a combination of the three gives the signs with which all four can be equally far.
  const combination = solveLinear(
    [0, 1, 2].map((j) => rows.map((r) => r[j]!)),
    row(columns, fourth),
  );
  if (combination === null) return null;
  return [
    { index: fourth, sign: side },
    ...three.map((index, k): Support => ({ index, sign: combination[k]! > 0 === side > 0 ? -1 : 1 })),
  ];
}

function fitOn(supports: Support[], columns: Columns, z: Float64Array): ChebyshevFit | null {
  const solution = solveLinear(
    supports.map(({ index, sign }) => [...row(columns, index), sign]),
    supports.map(({ index }) => z[index]!),
  );
  if (solution === null) return null;
  const [a, b, c, half] = solution as [number, number, number, number];
  return { coefficients: [a, b, c], half };
}

/** The point farthest beyond the zone, or under the cautious rule the first one beyond it. */
function worstPoint(fit: ChebyshevFit, columns: Columns, z: Float64Array, cautious: boolean): Support | null {
  let worst: Support | null = null;
  let most = Math.abs(fit.half) + TOLERANCE;
  for (let i = 0; i < z.length; i++) {
    const residual = z[i]! - valueAt(columns, fit.coefficients, i);
    if (Math.abs(residual) <= most) continue;
    worst = { index: i, sign: residual > 0 ? 1 : -1 };
    if (cautious) return worst;
    most = Math.abs(residual);
  }
  return worst;
}

/** The supports after `entering` has taken the place of the one that keeps all weights at or above 0. */
function exchanged(supports: Support[], entering: Support, columns: Columns, cautious: boolean): Support[] | null {
  const column = ({ index, sign }: Support) => [...row(columns, index).map((value) => sign * value), 1];
  const matrix = [0, 1, 2, 3].map((k) => supports.map((s) => column(s)[k]!));
  const weights = solveLinear(matrix, [0, 0, 0, 1]);
  const direction = solveLinear(matrix, column(entering));
  if (weights === null || direction === null) return null;
  let leaving = -1;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 4; k++) {
    if (direction[k]! <= 1e-12) continue;
    const ratio = Math.max(0, weights[k]!) / direction[k]!;
    const tie = leaving >= 0 && Math.abs(ratio - least) <= 1e-13;
    const preferred =
      tie && (cautious ? supports[k]!.index < supports[leaving]!.index : direction[k]! > direction[leaving]!);
    if (tie ? preferred : ratio < least) {
      leaving = k;
      least = Math.min(least, ratio);
    }
  }
  if (leaving < 0) return null;
  return supports.map((s, k) => (k === leaving ? entering : s));
}
