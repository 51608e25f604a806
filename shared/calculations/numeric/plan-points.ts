/** Plan points about their middle, divided by their extent, in an order that depends on nothing but themselves. */
export interface PlanPoints {
  readonly middle: readonly [number, number];
  /** The diagonal of the box around the points. */
  readonly extent: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** How many differ from all before them. */
  readonly distinct: number;
  /** Corners of the convex hull, counter-clockwise, as indexes; none of them within rounding of a hull edge. */
  readonly hull: readonly number[];
  /** The least distance between two parallel lines that hold all points, over the extent. */
  readonly width: number;
}

/** @returns null where the extent is too small or too great to be divided by. */
export function planPoints(points: readonly (readonly [number, number])[]): PlanPoints | null {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const box = (k: 0 | 1) => {
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const p of sorted) {
      low = Math.min(low, p[k]);
      high = Math.max(high, p[k]);
    }
    return { low, size: high - low };
  };
  const [across, up] = [box(0), box(1)];
  const extent = Math.hypot(across.size, up.size);
  if (!Number.isFinite(extent) || extent < 1e-150) return null;
  // The differences to a corner of the box are nearly exact, however far away the origin is.
  const x = Float64Array.from(sorted, (p) => (p[0] - across.low - across.size / 2) / extent);
  const y = Float64Array.from(sorted, (p) => (p[1] - up.low - up.size / 2) / extent);
  let distinct = 1;
  for (let i = 1; i < x.length; i++) if (x[i] !== x[i - 1] || y[i] !== y[i - 1]) distinct++;
  const hull = convexHull(x, y);
  const middle = [across.low + across.size / 2, up.low + up.size / 2] as const;
  return { middle, extent, x, y, distinct, hull, width: leastWidth(x, y, hull) };
}

/** Twice the area of the triangle a, b, c; positive when it turns counter-clockwise. */
export function turn(x: Float64Array, y: Float64Array, a: number, b: number, c: number): number {
  return (x[b]! - x[a]!) * (y[c]! - y[a]!) - (y[b]! - y[a]!) * (x[c]! - x[a]!);
}

function convexHull(x: Float64Array, y: Float64Array): number[] {
  const bends = (a: number, b: number, c: number): boolean => {
    const [ab, ac] = [Math.hypot(x[b]! - x[a]!, y[b]! - y[a]!), Math.hypot(x[c]! - x[a]!, y[c]! - y[a]!)];
    return turn(x, y, a, b, c) > 4 * Number.EPSILON * ab * ac;
  };
  // Monotone chain (Andrew 1979); the points come sorted.
  const chain = (order: Iterable<number>): number[] => {
    const kept: number[] = [];
    for (const i of order) {
      while (kept.length > 1 && !bends(kept.at(-2)!, kept.at(-1)!, i)) kept.pop();
      kept.push(i);
    }
    return kept.slice(0, -1);
  };
  const order = Array.from(x, (_, i) => i);
  return [...chain(order), ...chain(order.reverse())];
}

/** The narrowest strip has one side along a hull edge. */
function leastWidth(x: Float64Array, y: Float64Array, hull: readonly number[]): number {
  if (hull.length < 3) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (const [k, a] of hull.entries()) {
    const b = hull[(k + 1) % hull.length]!;
    const length = Math.hypot(x[b]! - x[a]!, y[b]! - y[a]!);
    let deepest = 0;
    for (const c of hull) deepest = Math.max(deepest, turn(x, y, a, b, c));
    least = Math.min(least, deepest / length);
  }
  return least;
}

/** Centre of the circle through three points, null where they lie on a line. */
export function circumcentre(
  x: Float64Array,
  y: Float64Array,
  a: number,
  b: number,
  c: number,
): readonly [number, number] | null {
  const [bx, by] = [x[b]! - x[a]!, y[b]! - y[a]!];
  const [cx, cy] = [x[c]! - x[a]!, y[c]! - y[a]!];
  const area = 2 * (bx * cy - by * cx);
  const [bb, cc] = [bx * bx + by * by, cx * cx + cy * cy];
  const [ux, uy] = [(cy * bb - by * cc) / area, (bx * cc - cx * bb) / area];
  return Number.isFinite(ux) && Number.isFinite(uy) ? [x[a]! + ux, y[a]! + uy] : null;
}
