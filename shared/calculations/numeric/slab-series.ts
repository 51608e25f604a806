/**
 * Slab of half-thickness L, evenly warm at first, then cooled through both faces: the series
 * θ = Σ C_n exp(−z_n² Fo) cos(z_n x/L), z tan z = Bi, C = 4 sin z / (2z + sin 2z).
 * Source: H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), 3.11.
 */

/** Terms below exp(−30) of the first are far below the 1e-9 that the sum promises. */
const leastExponent = 30;

/**
 * Root number n (0, 1, …) of z tan z = Bi, in (nπ, nπ + π/2); of null (fixed surface temperature) nπ + π/2.
 * @throws {Error} should the iteration ever not settle.
 */
export function slabRoot(biot: number | null, n: number): number {
  if (biot === null) return (n + 0.5) * Math.PI;
  if (biot === 0) return n * Math.PI;
  // tan u = Bi/z with z = nπ + u; near 0 and for Bi → ∞ the first guess is exact.
  const base = n * Math.PI;
  let u = n === 0 ? Math.sqrt(biot / (1 + (4 * biot) / Math.PI ** 2)) : Math.atan2(biot, base);
  for (let step = 0; step < 60; step++) {
    const z = base + u;
    const sin = Math.sin(u);
    const cos = Math.cos(u);
    // Newton on z sin u − Bi cos u, divided through by (1 + Bi) so that a large Bi does not overflow.
    const big = biot / (1 + biot);
    const small = 1 / (1 + biot);
    const change = (small * z * sin - big * cos) / (small * (sin + z * cos) + big * sin);
    const next = Math.min(Math.max(u - change, u / 2), (u + Math.PI / 2) / 2);
    if (Math.abs(next - u) <= 4e-16 * next) return base + next;
    u = next;
  }
  if (slabRootError(biot, base + u) < 1e-12) return base + u;
  throw new Error(`root ${n} of z tan z = ${biot} did not settle`);
}

/** How far z is from z tan z = Bi, as an angle. */
const slabRootError = (biot: number, z: number): number => Math.abs(Math.sin(z - Math.atan2(biot, z)));

/** Weight C_n of the term with root z. */
export const slabWeight = (z: number): number => (z === 0 ? 1 : (4 * Math.sin(z)) / (2 * z + Math.sin(2 * z)));

/** Sum of the series and how many terms it took. `fourier` must be greater than 0. */
export function slabSeries(biot: number | null, fourier: number, position: number): { theta: number; terms: number } {
  // A fixed surface is at the new temperature from the first moment on.
  if (biot === null && position === 1) return { theta: 0, terms: 0 };
  let theta = 0;
  for (let n = 0; ; n++) {
    const z = slabRoot(biot, n);
    const exponent = z * z * fourier;
    if (n > 0 && exponent > leastExponent) return { theta, terms: n };
    theta += slabWeight(z) * Math.exp(-exponent) * Math.cos(z * position);
  }
}
