const DEGREE = Math.PI / 180;

/** Sine and cosine of 0 to 45°, from the reduced angle so that both keep all their digits. */
const small = (deg: number): [number, number] => [Math.cos(deg * DEGREE), Math.sin(deg * DEGREE)];

/**
 * Unit vector [cos, sin] of an angle in degrees, counter-clockwise; exact at multiples of 90°,
 * so that blocks set opposite each other cancel.
 */
export function unitVector(angle_deg: number): [number, number] {
  const turned = ((angle_deg % 360) + 360) % 360;
  const quarter = Math.floor(turned / 90) % 4;
  const rest = turned - 90 * quarter;
  const [c, s] = rest <= 45 ? small(rest) : (small(90 - rest).reverse() as [number, number]);
  if (quarter === 0) return [c, s];
  if (quarter === 1) return [-s, c];
  if (quarter === 2) return [-c, -s];
  return [s, -c];
}

/** Direction of a vector in degrees, counter-clockwise from +x, in [0, 360). */
export function directionDeg(x: number, y: number): number {
  const deg = Math.atan2(y, x) / DEGREE;
  const positive = deg < 0 ? deg + 360 : deg;
  // A hair below 360 may round up to it; + 0 turns −0 into 0.
  return positive >= 360 ? 0 : positive + 0;
}
