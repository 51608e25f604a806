import erfc from '@stdlib/math-base-special-erfc';

/** Area of the standard normal distribution above z. */
export const normalUpperTail = (z: number): number => erfc(z / Math.SQRT2) / 2;

// Gauss-Legendre nodes and weights, 8 points, the positive half (Abramowitz and Stegun, table 25.4).
const NODES = [
  [0.1834346424956498, 0.362683783378362],
  [0.525532409916329, 0.3137066458778873],
  [0.7966664774136267, 0.2223810344533745],
  [0.9602898564975363, 0.1012285362903763],
] as const;

/**
 * Area of the standard normal distribution between a and b (a ≤ b, either may be infinite), with full relative
 * accuracy: from the nearer tail, and by quadrature where the two tails would cancel.
 */
export function normalInterval(a: number, b: number): number {
  const width = b - a;
  const middle = a + width / 2;
  if (width * Math.max(1, Math.abs(middle)) <= 1) {
    const half = width / 2;
    const density = Math.exp((-middle * middle) / 2) / Math.sqrt(2 * Math.PI);
    const relative = (t: number) => Math.exp(-t * middle - (t * t) / 2);
    return density * half * NODES.reduce((sum, [x, w]) => sum + w * (relative(x * half) + relative(-x * half)), 0);
  }
  if (a > 0) return normalUpperTail(a) - normalUpperTail(b);
  if (b < 0) return normalUpperTail(-b) - normalUpperTail(-a);
  return 1 - normalUpperTail(-a) - normalUpperTail(b);
}
