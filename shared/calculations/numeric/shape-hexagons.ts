/** Glass in the plan of a hexagonal tiling: 1 − ((p − g)/p)², in the form that keeps the digits of a thin rib. */
export function ribFraction(pitch: number, gap: number): number {
  const share = gap / pitch;
  return share * (2 - share);
}

export type Point = readonly [number, number];

/**
 * The corners of the cores of a ring from 0° to before 60°, in units of the pitch; turns of 60° give the rest of the
 * ring. A flat faces +x, so corners lie at 30°, 90° … round each centre.
 *
 * @param ring 0 for the centre
 * @param across width across flats over the pitch
 */
export function sixthOfRing(ring: number, across: number): Point[][] {
  const half = across / 2;
  const side = across / Math.sqrt(3);
  return Array.from({ length: Math.max(1, ring) }, (_, step) => {
    const x = ring - step / 2;
    const y = (step * Math.sqrt(3)) / 2;
    return [
      [x + half, y + side / 2],
      [x, y + side],
      [x - half, y + side / 2],
      [x - half, y - side / 2],
      [x, y - side],
      [x + half, y - side / 2],
    ];
  });
}

/** Distance of the farthest corner from the axis. */
export const farthestFromAxis = (corners: readonly Point[]): number =>
  Math.sqrt(corners.reduce((most, [x, y]) => Math.max(most, x * x + y * y), 0));

/** Distance of the nearest point of a core from the axis, for a core that does not hold the axis. */
export const nearestToAxis = (corners: readonly Point[]): number =>
  Math.min(...corners.map((corner, k) => axisToSegment(corner, corners[(k + 1) % corners.length]!)));

/** Distance of the axis from the segment a–b. */
function axisToSegment(a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const square = dx * dx + dy * dy;
  const along = square === 0 ? 0 : -(a[0] * dx + a[1] * dy) / square;
  const t = Math.min(1, Math.max(0, along));
  return Math.sqrt((a[0] + t * dx) ** 2 + (a[1] + t * dy) ** 2);
}
