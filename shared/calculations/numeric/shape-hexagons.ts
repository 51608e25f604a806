/** Glass in the plan of a hexagonal tiling: 1 − ((p − g)/p)², in the form that keeps the digits of a thin rib. */
export function ribFraction(pitch: number, gap: number): number {
  const share = gap / pitch;
  return share * (2 - share);
}

/** A hexagon of the lattice, in units of the pitch. */
interface LatticeCore {
  /** Steps along the side of the ring, 0 at its corner. */
  readonly step: number;
  /** Distance of its farthest corner from the axis. */
  readonly farthest: number;
  /** Distance of its nearest point from the axis; 0 for the one at the centre. */
  readonly nearest: number;
}

type Point = readonly [number, number];

/** The six corners round a centre; a flat faces +x, so corners lie at 30°, 90° … */
function cornersOf(across: number): Point[] {
  const half = across / 2;
  const side = across / Math.sqrt(3);
  return [
    [half, side / 2],
    [0, side],
    [-half, side / 2],
    [-half, -side / 2],
    [0, -side],
    [half, -side / 2],
  ];
}

/** Distance of the origin from the segment a–b. */
function distanceToSegment(a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const along = -(a[0] * dx + a[1] * dy) / (dx * dx + dy * dy);
  const t = Math.min(1, Math.max(0, along));
  return Math.sqrt((a[0] + t * dx) ** 2 + (a[1] + t * dy) ** 2);
}

/**
 * The cores of a ring from 0° to before 60°, in units of the pitch; turns of 60° give the rest of the ring.
 *
 * @param ring 0 for the centre
 * @param across width across flats over the pitch
 */
export function sixthOfRing(ring: number, across: number): LatticeCore[] {
  const offsets = cornersOf(across);
  return Array.from({ length: Math.max(1, ring) }, (_, step) => {
    const x = ring - step + step / 2;
    const y = (step * Math.sqrt(3)) / 2;
    const corners = offsets.map(([dx, dy]): Point => [x + dx, y + dy]);
    const farthest = Math.max(...corners.map(([cx, cy]) => Math.sqrt(cx * cx + cy * cy)));
    const nearest =
      ring === 0 ? 0 : Math.min(...corners.map((corner, k) => distanceToSegment(corner, corners[(k + 1) % 6]!)));
    return { step, farthest, nearest };
  });
}
