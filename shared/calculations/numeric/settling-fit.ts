/**
 * Least squares of y = final + fall · exp(−(x − x₀)/τ), τ > 0: for each τ the other two follow from a straight line
 * in the basis φ = (1 − exp(−u))/(1 − exp(−k)), u = (x − x₀)/τ, k = span/τ (variable projection, G. H. Golub and
 * V. Pereyra, SIAM J. Numer. Anal. 10 (1973) 413). φ goes to x/span for large τ, so nothing degenerates there.
 */
export interface SettlingFit {
  final: number;
  fall: number;
  timeConstant: number;
  residualSquares: number;
  /** What the curve still has to fall after the last reading, and its standard error. */
  remaining: number;
  remainingError: number;
  /** False where the readings cannot tell the time constant: the best one lies at the end of the search. */
  isDetermined: boolean;
}

interface Trial {
  logTau: number;
  /** Value at x₀ and change from there to the last x. */
  start: number;
  change: number;
  residualSquares: number;
  gradient: number;
  phi: number[];
  phiSlope: number[];
}

/** `xs` sorted, from 0 up, with at least 3 different values; `ys` scaled to about 1. */
export function fitSettling(xs: readonly number[], ys: readonly number[]): SettlingFit {
  const span = xs.at(-1) as number;
  const leastGap = xs.slice(1).reduce((least, x, k) => {
    const gap = x - (xs[k] as number);
    return gap > 0 && gap < least ? gap : least;
  }, span);
  // Faster than a thirtieth of the least gap, or slower than ten thousand spans, no reading could tell.
  const from = Math.log(leastGap / 30);
  const to = Math.log(10_000 * span);
  const steps = Math.min(600, Math.ceil((to - from) / 0.1));
  const grid = Array.from({ length: steps + 1 }, (_, k) => tryTau(xs, ys, from + ((to - from) * k) / steps));
  const candidates: Trial[] = [];
  grid.slice(1).forEach((right, k) => {
    const left = grid[k] as Trial;
    if (left.gradient < 0 && right.gradient >= 0) candidates.push(minimumBetween(xs, ys, left, right));
  });
  const ends = [grid[0] as Trial, grid.at(-1) as Trial];
  const best = [...candidates, ...ends].reduce((a, b) => (b.residualSquares < a.residualSquares ? b : a));
  return describe(best, xs, span, !ends.includes(best));
}

/** Halves the bracket until the gradient of the sum of squares turns at the last digit. */
function minimumBetween(xs: readonly number[], ys: readonly number[], left: Trial, right: Trial): Trial {
  let low = left.logTau;
  let high = right.logTau;
  for (let step = 0; step < 55; step++) {
    const middle = (low + high) / 2;
    if (tryTau(xs, ys, middle).gradient < 0) low = middle;
    else high = middle;
  }
  return tryTau(xs, ys, (low + high) / 2);
}

function tryTau(xs: readonly number[], ys: readonly number[], logTau: number): Trial {
  const tau = Math.exp(logTau);
  const k = (xs.at(-1) as number) / tau;
  const whole = -Math.expm1(-k);
  const phi = xs.map((x) => -Math.expm1(-x / tau) / whole);
  // dφ/d ln τ.
  const phiSlope = xs.map((x, n) => {
    const u = x / tau;
    return ((phi[n] as number) * k * Math.exp(-k) - u * Math.exp(-u)) / whole;
  });
  const meanPhi = phi.reduce((a, b) => a + b, 0) / phi.length;
  const meanY = ys.reduce((a, b) => a + b, 0) / ys.length;
  let across = 0;
  let along = 0;
  phi.forEach((p, n) => {
    across += (p - meanPhi) * ((ys[n] as number) - meanY);
    along += (p - meanPhi) ** 2;
  });
  const change = across / along;
  const start = meanY - change * meanPhi;
  let residualSquares = 0;
  let gradient = 0;
  phi.forEach((p, n) => {
    const residual = (ys[n] as number) - meanY - change * (p - meanPhi);
    residualSquares += residual * residual;
    gradient -= residual * change * (phiSlope[n] as number);
  });
  return { logTau, start, change, residualSquares, gradient, phi, phiSlope };
}

function describe(best: Trial, xs: readonly number[], span: number, isBracketed: boolean): SettlingFit {
  const timeConstant = Math.exp(best.logTau);
  const k = span / timeConstant;
  const whole = -Math.expm1(-k);
  const growth = Math.expm1(k);
  const fall = -best.change / whole;
  // Remaining = −change/(eᵏ − 1); its slopes with respect to start, change and ln τ.
  const slopes = [0, -1 / growth, (-k * best.change) / growth / whole];
  const columns = [xs.map(() => 1), best.phi, best.phiSlope.map((s) => s * best.change)];
  const variance = best.residualSquares / (xs.length - 3);
  const remainingError = Math.sqrt(variance) * propagated(columns, slopes);
  return {
    final: best.start + best.change / whole,
    fall,
    timeConstant,
    residualSquares: best.residualSquares,
    remaining: -best.change / growth + 0,
    remainingError,
    isDetermined: isBracketed && Number.isFinite(remainingError),
  };
}

/** √(g (JᵀJ)⁻¹ gᵀ) for columns J and slopes g, by modified Gram–Schmidt: J = QR, then |R⁻ᵀ g|. */
function propagated(columns: readonly number[][], slopes: readonly number[]): number {
  const basis: number[][] = [];
  const solved: number[] = [];
  columns.forEach((column, j) => {
    let rest = column;
    let right = slopes[j] as number;
    basis.forEach((q, m) => {
      const r = q.reduce((sum, v, n) => sum + v * (rest[n] as number), 0);
      rest = rest.map((v, n) => v - r * (q[n] as number));
      right -= r * (solved[m] as number);
    });
    const length = Math.sqrt(rest.reduce((sum, v) => sum + v * v, 0));
    basis.push(rest.map((v) => v / length));
    solved.push(right / length);
  });
  return Math.hypot(...solved);
}
