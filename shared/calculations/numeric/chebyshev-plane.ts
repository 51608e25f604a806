import { solveLinear } from './solve-linear.ts';

/** The plane u·slopeU + v·slopeV + offset that keeps the greatest distance along z least, and that distance. */
export interface ChebyshevPlane {
  readonly slopeU: number;
  readonly slopeV: number;
  readonly offset: number;
  readonly half: number;
}

interface Support {
  readonly index: number;
  /** +1 above the plane, −1 below it. */
  readonly sign: 1 | -1;
}

/** Relative to the greatest |z|, which the caller scales to about 1. */
const TOLERANCE = 1e-13;
const MOST_EXCHANGES = 20_000;
/** Exchanges that leave the distance as it was, before the rule that cannot cycle takes over. */
const PATIENCE = 20;

/**
 * Exact on its four support points: the simplex method on the dual of the linear programme
 * "least h with |z − plane| ≤ h" (Stiefel's exchange). Coordinates should be centred and of size about 1.
 * @returns null where the plan points lie on one line or the exchange does not end.
 */
export function chebyshevPlane(u: Float64Array, v: Float64Array, z: Float64Array): ChebyshevPlane | null {
  const start = firstSupports(u, v, z);
  if (start === null) return null;
  if ('half' in start) return start;
  let supports = start;
  let stalled = 0;
  let best = -1;
  for (let exchange = 0; exchange < MOST_EXCHANGES; exchange++) {
    const plane = planeOn(supports, u, v, z);
    if (plane === null) return null;
    stalled = plane.half > best + TOLERANCE ? 0 : stalled + 1;
    best = Math.max(best, plane.half);
    const entering = worstPoint(plane, u, v, z, stalled > PATIENCE);
    if (entering === null) return plane;
    const next = exchanged(supports, entering, u, v, stalled > PATIENCE);
    if (next === null) return null;
    supports = next;
  }
  return null;
}

function firstSupports(u: Float64Array, v: Float64Array, z: Float64Array): Support[] | ChebyshevPlane | null {
  const n = u.length;
  const far = (score: (i: number) => number): number => {
    let best = 0;
    for (let i = 1; i < n; i++) if (score(i) > score(best)) best = i;
    return best;
  };
  const p = far((i) => u[i]!);
  const q = far((i) => Math.hypot(u[i]! - u[p]!, v[i]! - v[p]!));
  const area = (i: number) => (u[q]! - u[p]!) * (v[i]! - v[p]!) - (v[q]! - v[p]!) * (u[i]! - u[p]!);
  const r = far((i) => Math.abs(area(i)));
  const through = solveLinear(
    [p, q, r].map((i) => [u[i]!, v[i]!, 1]),
    [p, q, r].map((i) => z[i]!),
  );
  if (through === null) return null;
  const [slopeU, slopeV, offset] = through as [number, number, number];
  const s = far((i) => Math.abs(z[i]! - slopeU * u[i]! - slopeV * v[i]! - offset));
  const above = z[s]! - slopeU * u[s]! - slopeV * v[s]! - offset;
  if (Math.abs(above) <= TOLERANCE) return { slopeU, slopeV, offset, half: 0 };
  const side = above > 0 ? 1 : -1;
  // The fourth point as a combination of the three gives the signs with which all four can be equally far.
  const lambda = solveLinear(
    [
      [u[p]!, u[q]!, u[r]!],
      [v[p]!, v[q]!, v[r]!],
      [1, 1, 1],
    ],
    [u[s]!, v[s]!, 1],
  );
  if (lambda === null) return null;
  return [
    { index: s, sign: side },
    ...[p, q, r].map((index, k): Support => ({ index, sign: lambda[k]! > 0 === side > 0 ? -1 : 1 })),
  ];
}

function planeOn(supports: Support[], u: Float64Array, v: Float64Array, z: Float64Array): ChebyshevPlane | null {
  const solution = solveLinear(
    supports.map(({ index: i, sign }) => [u[i]!, v[i]!, 1, sign]),
    supports.map(({ index }) => z[index]!),
  );
  if (solution === null) return null;
  const [slopeU, slopeV, offset, half] = solution as [number, number, number, number];
  return { slopeU, slopeV, offset, half };
}

/** The point farthest beyond the zone, or under the cautious rule the first one beyond it. */
function worstPoint(
  plane: ChebyshevPlane,
  u: Float64Array,
  v: Float64Array,
  z: Float64Array,
  cautious: boolean,
): Support | null {
  let worst: Support | null = null;
  let most = Math.abs(plane.half) + TOLERANCE;
  for (let i = 0; i < u.length; i++) {
    const residual = z[i]! - plane.slopeU * u[i]! - plane.slopeV * v[i]! - plane.offset;
    if (Math.abs(residual) <= most) continue;
    worst = { index: i, sign: residual > 0 ? 1 : -1 };
    if (cautious) return worst;
    most = Math.abs(residual);
  }
  return worst;
}

/** The supports after `entering` has taken the place of the one that keeps all weights at or above 0. */
function exchanged(
  supports: Support[],
  entering: Support,
  u: Float64Array,
  v: Float64Array,
  cautious: boolean,
): Support[] | null {
  const column = ({ index: i, sign }: Support) => [sign * u[i]!, sign * v[i]!, sign, 1];
  const columns = supports.map(column);
  const matrix = [0, 1, 2, 3].map((row) => columns.map((c) => c[row]!));
  const weights = solveLinear(matrix, [0, 0, 0, 1]);
  const direction = solveLinear(matrix, column(entering));
  if (weights === null || direction === null) return null;
  let leaving = -1;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 4; k++) {
    if (direction[k]! <= 1e-12) continue;
    const ratio = Math.max(0, weights[k]!) / direction[k]!;
    const tie = Math.abs(ratio - least) <= 1e-13;
    const preferred = cautious
      ? leaving >= 0 && supports[k]!.index < supports[leaving]!.index
      : leaving >= 0 && direction[k]! > direction[leaving]!;
    if (tie ? preferred : ratio < least) {
      leaving = k;
      least = Math.min(least, ratio);
    }
  }
  if (leaving < 0) return null;
  return supports.map((s, k) => (k === leaving ? entering : s));
}
