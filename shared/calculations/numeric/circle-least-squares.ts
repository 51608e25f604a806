import { type Circle, circleOf, type Model, modelOf, moved, type SquareSum, squareSum } from './circle-model.ts';
import { circumcentre, type PlanPoints } from './plan-points.ts';

type Step = [number, number, number];

/** Circles of a larger radius, in extents, are lines for every purpose. */
export const FARTHEST = 1e9;
const MOST_STEPS = 400;
/** A step that moves the circle by less (root mean square, in extents) is the end; it proves that the fit stands. */
const PROVEN = 1e-10;

/**
 * The circle of least squared distances: damped Newton from several starts, the least kept. Each is finished by
 * undamped Newton steps and only taken where the second derivatives prove a minimum and the last step was nothing.
 * @returns null where no start leads to a proven minimum at a finite radius, or a line is as good.
 */
export function leastSquaresCircle(p: PlanPoints): Circle | null {
  let best: { value: number; circle: Circle } | null = null;
  for (const start of starts(p)) {
    const end = descend(start, p);
    if (end === null) continue;
    const circle = circleOf(end.model);
    if (circle === null || !(circle.radius <= FARTHEST)) continue;
    if (best === null || end.value < best.value) best = { value: end.value, circle };
  }
  const line = squareSum(straightLine(p), p.x, p.y).value;
  return best !== null && best.value <= line ? best.circle : null;
}

function descend(start: Model, p: PlanPoints): { model: Model; value: number } | null {
  let model = start;
  let sum = squareSum(model, p.x, p.y);
  let damping = 0;
  for (let count = 0; count < MOST_STEPS; count++) {
    const step = dampedStep(sum, damping);
    if (step === null) {
      damping = Math.max(10 * damping, 1e-4);
      if (damping > 1e20) return null;
      continue;
    }
    const gain = -(step[0] * sum.gradient[0] + step[1] * sum.gradient[1] + step[2] * sum.gradient[2]) / 2;
    // From here on the sum no longer tells better from worse, but the gradient does.
    if (gain <= 1e-12 * sum.value + p.x.length * 1e-33) return finish(model, p);
    const next = moved(model, step);
    const nextSum = next && squareSum(next, p.x, p.y);
    if (next && nextSum && nextSum.value < sum.value) {
      [model, sum] = [next, nextSum];
      damping = damping < 1e-8 ? 0 : damping / 10;
    } else {
      damping = Math.max(10 * damping, 1e-4);
      if (damping > 1e20) return null;
    }
  }
  return null;
}

/** Newton steps for as long as they shrink; null unless the end is a proven minimum. */
function finish(start: Model, p: PlanPoints): { model: Model; value: number } | null {
  let model = start;
  let last = Number.POSITIVE_INFINITY;
  for (let count = 0; count < 20; count++) {
    const sum = squareSum(model, p.x, p.y);
    const step = dampedStep(sum, 0);
    if (step === null) return null;
    const size = Math.sqrt(Math.max(0, quadratic(sum.gaussNewton, step)) / p.x.length);
    if (!(size < last / 2)) return last <= PROVEN ? { model, value: sum.value } : null;
    const next = moved(model, step);
    if (next === null) return null;
    [model, last] = [next, size];
  }
  return last <= PROVEN ? { model, value: squareSum(model, p.x, p.y).value } : null;
}

const quadratic = (m: number[][], s: Step): number =>
  m.reduce((sum, row, j) => sum + s[j]! * (row[0]! * s[0] + row[1]! * s[1] + row[2]! * s[2]), 0);

/** The Newton step with `damping` times the Gauss-Newton diagonal added; null where that is not positive definite. */
function dampedStep(sum: SquareSum, damping: number): Step | null {
  const scale = sum.gaussNewton.map((row, j) => Math.sqrt(row[j]!)) as Step;
  if (!scale.every((s) => s > 0 && Number.isFinite(s))) return null;
  const m = sum.hessian.map((row, j) =>
    row.map((value, k) => value / (scale[j]! * scale[k]!) + (j === k ? damping : 0)),
  );
  const solution = choleskySolve(
    m,
    sum.gradient.map((g, j) => -g / scale[j]!),
  );
  return solution && (solution.map((s, j) => s / scale[j]!) as Step);
}

function choleskySolve(m: number[][], b: number[]): number[] | null {
  const l = m.map((row) => row.map(() => 0));
  for (let j = 0; j < 3; j++) {
    for (let k = 0; k <= j; k++) {
      let rest = m[j]![k]!;
      for (let i = 0; i < k; i++) rest -= l[j]![i]! * l[k]![i]!;
      if (j === k && !(rest > 1e-14)) return null;
      l[j]![k] = j === k ? Math.sqrt(rest) : rest / l[k]![k]!;
    }
  }
  const y = [0, 0, 0];
  for (let j = 0; j < 3; j++) {
    let rest = b[j]!;
    for (let i = 0; i < j; i++) rest -= l[j]![i]! * y[i]!;
    y[j] = rest / l[j]![j]!;
  }
  const x = [0, 0, 0];
  for (let j = 2; j >= 0; j--) {
    let rest = y[j]!;
    for (let i = j + 1; i < 3; i++) rest -= l[i]![j]! * x[i]!;
    x[j] = rest / l[j]![j]!;
  }
  return x;
}

/** Two algebraic circles, circles through three points, and the straight line. */
function starts(p: PlanPoints): Model[] {
  return [...algebraicCircles(p), ...circlesThroughThree(p)].map((c) => modelOf(c, p.x, p.y)).concat(straightLine(p));
}

interface Moments {
  readonly meanX: number;
  readonly meanY: number;
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
  readonly xz: number;
  readonly yz: number;
  readonly zz: number;
}

function moments(p: PlanPoints): Moments {
  const n = p.x.length;
  const meanX = p.x.reduce((s, v) => s + v, 0) / n;
  const meanY = p.y.reduce((s, v) => s + v, 0) / n;
  const m = { xx: 0, xy: 0, yy: 0, xz: 0, yz: 0, zz: 0 };
  for (let i = 0; i < n; i++) {
    const [x, y] = [p.x[i]! - meanX, p.y[i]! - meanY];
    const z = x * x + y * y;
    m.xx += (x * x) / n;
    m.xy += (x * y) / n;
    m.yy += (y * y) / n;
    m.xz += (x * z) / n;
    m.yz += (y * z) / n;
    m.zz += (z * z) / n;
  }
  return { meanX, meanY, ...m };
}

/** The fits of Kåsa and Taubin (Chernov, Circular and Linear Regression, 2011, 5.1 and 5.9): good starts on arcs. */
function algebraicCircles(p: PlanPoints): Circle[] {
  const m = moments(p);
  const mz = m.xx + m.yy;
  const cov = m.xx * m.yy - m.xy * m.xy;
  const a3 = 4 * mz;
  const a2 = -3 * mz * mz - m.zz;
  const a1 = m.zz * mz + 4 * cov * mz - m.xz * m.xz - m.yz * m.yz - mz ** 3;
  const a0 = m.xz * m.xz * m.yy + m.yz * m.yz * m.xx - m.zz * cov - 2 * m.xz * m.yz * m.xy + mz * mz * cov;
  let root = 0;
  for (let i = 0; i < 50; i++) {
    const slope = a1 + root * (2 * a2 + 3 * a3 * root);
    const next = root - (a0 + root * (a1 + root * (a2 + root * a3))) / slope;
    if (!(Math.abs(next - root) > 1e-15) || !Number.isFinite(next)) break;
    root = next;
  }
  return [0, root].flatMap((shift) => {
    const det = 2 * (shift * shift - shift * mz + cov);
    const x = (m.xz * (m.yy - shift) - m.yz * m.xy) / det;
    const y = (m.yz * (m.xx - shift) - m.xz * m.xy) / det;
    const radius = Math.sqrt(x * x + y * y + mz);
    return Number.isFinite(radius) && radius > 0 && radius < FARTHEST
      ? [{ x: x + m.meanX, y: y + m.meanY, radius }]
      : [];
  });
}

/** All circles through three of a few points, of many points a fixed choice spread over them. */
function circlesThroughThree(p: PlanPoints): Circle[] {
  const n = p.x.length;
  const triples: [number, number, number][] = [];
  if (n <= 9) {
    for (let a = 0; a < n; a++) for (let b = a + 1; b < n; b++) for (let c = b + 1; c < n; c++) triples.push([a, b, c]);
  } else {
    const count = Math.min(100, Math.max(8, Math.floor(12_000 / n)));
    // Multiples of irrational numbers spread evenly, without chance.
    const at = (k: number, irrational: number) => Math.floor(((k * irrational) % 1) * n);
    for (let k = 1; k <= count; k++) triples.push([at(k, Math.SQRT2), at(k, Math.sqrt(3)), at(k, Math.sqrt(7))]);
  }
  return triples.flatMap(([a, b, c]) => {
    const centre = circumcentre(p.x, p.y, a, b, c);
    if (centre === null) return [];
    const radius = Math.hypot(p.x[a]! - centre[0], p.y[a]! - centre[1]);
    return radius > 0 && radius < FARTHEST ? [{ x: centre[0], y: centre[1], radius }] : [];
  });
}

/** The line of least squared distances, from which the descent bends to the better side. */
function straightLine(p: PlanPoints): Model {
  const m = moments(p);
  const along = Math.atan2(2 * m.xy, m.xx - m.yy) / 2;
  return { a: 0, theta: along + Math.PI / 2, d: 0, originX: m.meanX, originY: m.meanY };
}
