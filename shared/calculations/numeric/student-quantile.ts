import studentQuantile from '@stdlib/stats-base-dists-t-quantile';
import { normalUpperTail } from './normal-interval.ts';

/** Above this the Student distribution is worked out from the normal one, by terms that fall with its powers. */
const MANY = 1e5;
/** Below this much probability about the middle the quantile is worked out from the density there. */
const NARROW = 1e-3;
const FAINTEST = 1e-300;

/** The value that a normal variable exceeds with probability `tail` (0 < tail ≤ 0.5): Newton on the logarithm. */
export function normalUpper(tail: number): number {
  if (tail < FAINTEST) return Number.POSITIVE_INFINITY;
  if (tail === 0.5) return 0;
  let z = Math.sqrt(-2 * Math.log(tail));
  for (let count = 0; count < 100; count++) {
    const area = normalUpperTail(z);
    const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
    const step = (Math.log(area / tail) * area) / density;
    z += step;
    if (Math.abs(step) <= 1e-15 * (1 + z)) return z;
  }
  return z;
}

/** Γ(x + ½)/Γ(x), by its series at x + 20 and the recurrence back. */
function gammaRatio(x: number): number {
  let factor = 1;
  for (let k = 0; k < 20; k++) factor *= (x + k) / (x + k + 0.5);
  const y = x + 20;
  return factor * Math.sqrt(y) * (1 - 1 / (8 * y) + 1 / (128 * y ** 2) + 5 / (1024 * y ** 3) - 21 / (32768 * y ** 4));
}

/**
 * The value that Student's t exceeds with probability `tail` (0 < tail ≤ 0.5), at `freedom` degrees of freedom;
 * infinite freedom is the normal distribution.
 */
export function studentUpper(tail: number, freedom: number): number {
  if (tail < FAINTEST) return Number.POSITIVE_INFINITY;
  if (freedom > MANY) {
    const z = normalUpper(tail);
    // Abramowitz and Stegun 26.7.5.
    const first = (z ** 3 + z) / 4;
    const second = (5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96;
    return z + first / freedom + second / freedom ** 2;
  }
  const middle = 1 - 2 * tail;
  if (middle < NARROW) {
    const density = gammaRatio(freedom / 2) / Math.sqrt(freedom * Math.PI);
    const a = middle / (2 * density);
    return a + ((freedom + 1) / (6 * freedom)) * a ** 3;
  }
  return Math.abs(studentQuantile(tail, freedom));
}
