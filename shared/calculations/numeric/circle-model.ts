import type { Columns } from './chebyshev-fit.ts';

/** A circle by centre and radius. */
export interface Circle {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/**
 * A circle as A(x² + y²) + E(x cos θ + y sin θ) + D = 0 with E² = 1 + 4AD, about an origin beside it.
 * A straight line is A = 0, so that flat arcs and far centres are as tame as full circles
 * (Chernov and Lesort, J. Math. Imaging Vis. 23, 2005).
 */
export interface Model {
  readonly a: number;
  readonly theta: number;
  readonly d: number;
  readonly originX: number;
  readonly originY: number;
}

/** The circle as a model with its origin on the point farthest from the centre, which is never near the centre. */
export function modelOf(circle: Circle, x: Float64Array, y: Float64Array): Model {
  let far = 0;
  let most = -1;
  for (let i = 0; i < x.length; i++) {
    const distance = Math.hypot(x[i]! - circle.x, y[i]! - circle.y);
    if (distance > most) [far, most] = [i, distance];
  }
  const [originX, originY] = [x[far]!, y[far]!];
  const [cx, cy] = [circle.x - originX, circle.y - originY];
  return {
    a: 1 / (2 * circle.radius),
    theta: Math.atan2(-cy, -cx),
    d: ((most - circle.radius) * (most + circle.radius)) / (2 * circle.radius),
    originX,
    originY,
  };
}

/** Back to centre and radius; null for a line. */
export function circleOf(m: Model): Circle | null {
  if (m.a === 0) return null;
  const reach = -Math.sqrt(1 + 4 * m.a * m.d) / (2 * m.a);
  return {
    x: m.originX + reach * Math.cos(m.theta),
    y: m.originY + reach * Math.sin(m.theta),
    radius: 1 / (2 * Math.abs(m.a)),
  };
}

/** The model after a step in (A, θ, D), null where no real circle is left. */
export function moved(m: Model, step: readonly [number, number, number]): Model | null {
  const next = { ...m, a: m.a + step[0], theta: m.theta + step[1], d: m.d + step[2] };
  return 1 + 4 * next.a * next.d > 0 && Number.isFinite(next.theta) ? next : null;
}

/** What the distances need of a model, worked out once for all points. */
interface Terms {
  readonly cos: number;
  readonly sin: number;
  readonly e: number;
}

const termsOf = (m: Model): Terms => ({
  cos: Math.cos(m.theta),
  sin: Math.sin(m.theta),
  e: Math.sqrt(1 + 4 * m.a * m.d),
});

/** Signed distances to the circle, positive outside it (for A > 0), without cancellation for far centres. */
export function distances(m: Model, x: Float64Array, y: Float64Array): Float64Array {
  const { cos, sin, e } = termsOf(m);
  return x.map((px, i) => {
    const [u, v] = [px - m.originX, y[i]! - m.originY];
    const p = m.a * (u * u + v * v) + e * (u * cos + v * sin) + m.d;
    return (2 * p) / (1 + Math.sqrt(Math.max(0, 1 + 4 * m.a * p)));
  });
}

/** Derivatives of the distances to A, θ and D. */
export function sensitivities(m: Model, x: Float64Array, y: Float64Array): Columns {
  const { cos, sin, e } = termsOf(m);
  const columns: Columns = [new Float64Array(x.length), new Float64Array(x.length), new Float64Array(x.length)];
  for (let i = 0; i < x.length; i++) {
    const [u, v] = [x[i]! - m.originX, y[i]! - m.originY];
    const [w, square] = [u * cos + v * sin, u * u + v * v];
    const p = m.a * square + e * w + m.d;
    const q = Math.max(Math.sqrt(Math.max(0, 1 + 4 * m.a * p)), 1e-100);
    const d = (2 * p) / (1 + q);
    columns[0][i] = (square + ((2 * m.d) / e) * w - d * d) / q;
    columns[1][i] = (e * (v * cos - u * sin)) / q;
    columns[2][i] = (1 + ((2 * m.a) / e) * w) / q;
  }
  return columns;
}

/** Half the sum of squared distances, its gradient, its second derivatives and their Gauss-Newton part. */
export interface SquareSum {
  readonly value: number;
  readonly gradient: [number, number, number];
  readonly hessian: number[][];
  readonly gaussNewton: number[][];
}

export function squareSum(m: Model, x: Float64Array, y: Float64Array): SquareSum {
  const { cos, sin, e } = termsOf(m);
  const e3 = e * e * e;
  const [eA, eD] = [(2 * m.d) / e, (2 * m.a) / e];
  const [eAA, eAD, eDD] = [(-4 * m.d * m.d) / e3, 2 / e - (4 * m.a * m.d) / e3, (-4 * m.a * m.a) / e3];
  const gradient: [number, number, number] = [0, 0, 0];
  const zero = () => [0, 0, 0].map(() => [0, 0, 0]);
  const [hessian, gaussNewton] = [zero(), zero()];
  let value = 0;
  for (let i = 0; i < x.length; i++) {
    const [u, v] = [x[i]! - m.originX, y[i]! - m.originY];
    const [w, across, square] = [u * cos + v * sin, v * cos - u * sin, u * u + v * v];
    const p = m.a * square + e * w + m.d;
    const q = Math.max(Math.sqrt(Math.max(0, 1 + 4 * m.a * p)), 1e-100);
    const d = (2 * p) / (1 + q);
    const slopeP = [square + eA * w, e * across, 1 + eD * w] as const;
    const bendP = [
      [eAA * w, eA * across, eAD * w],
      [eA * across, -e * w, eD * across],
      [eAD * w, eD * across, eDD * w],
    ] as const;
    // d depends on A directly and through p.
    const [dPP, dPA, dAA] = [
      (-2 * m.a) / q ** 3,
      (-2 * p) / q ** 3,
      (2 * d ** 3) / (q * q) + (2 * p * d * d) / q ** 3,
    ] as const;
    const slope = [(slopeP[0] - d * d) / q, slopeP[1] / q, slopeP[2] / q] as const;
    value += (d * d) / 2;
    for (let j = 0; j < 3; j++) {
      gradient[j] = gradient[j]! + d * slope[j]!;
      for (let k = 0; k < 3; k++) {
        const direct = (j === 0 ? dPA * slopeP[k]! : 0) + (k === 0 ? dPA * slopeP[j]! : 0);
        const bend = dPP * slopeP[j]! * slopeP[k]! + bendP[j]![k]! / q + direct + (j === 0 && k === 0 ? dAA : 0);
        gaussNewton[j]![k] = gaussNewton[j]![k]! + slope[j]! * slope[k]!;
        hessian[j]![k] = hessian[j]![k]! + slope[j]! * slope[k]! + d * bend;
      }
    }
  }
  return { value, gradient, hessian, gaussNewton };
}
