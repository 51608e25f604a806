import { circumcentre, type PlanPoints } from './plan-points.ts';

/** A stretch of the bisector of two hull corners along which no other point is farther away. */
export interface FarthestEdge {
  readonly a: number;
  readonly b: number;
  /** Halfway between the corners. */
  readonly x: number;
  readonly y: number;
  /** Unit direction of the bisector; positions on it are counted from the halfway point. */
  readonly directionX: number;
  readonly directionY: number;
  readonly from: number;
  /** Infinite where the stretch does not end. */
  readonly to: number;
}

/**
 * The edges of the farthest-point Voronoi diagram: again and again the corner whose circle through its neighbours
 * is largest leaves the hull, and that circle's centre is a vertex (Skyum, Inf. Process. Lett. 37, 1991).
 */
export function farthestEdges(p: PlanPoints): FarthestEdge[] {
  const n = p.hull.length;
  const next = p.hull.map((_, k) => (k + 1) % n);
  const previous = p.hull.map((_, k) => (k + n - 1) % n);
  /** Where the bisector of corner k and the next one has come to; null is infinity. */
  const reached: (readonly [number, number] | null)[] = p.hull.map(() => null);
  const score = p.hull.map((_, k) => radiusAt(p, previous[k]!, k, next[k]!));
  const edges: FarthestEdge[] = [];
  const left = new Set(p.hull.keys());
  while (left.size > 2) {
    let k = -1;
    for (const candidate of left) if (k < 0 || score[candidate]! > score[k]!) k = candidate;
    const [before, after] = [previous[k]!, next[k]!];
    const centre = circumcentre(p.x, p.y, p.hull[before]!, p.hull[k]!, p.hull[after]!);
    if (centre !== null) {
      edges.push(edge(p, p.hull[before]!, p.hull[k]!, reached[before]!, centre));
      edges.push(edge(p, p.hull[k]!, p.hull[after]!, reached[k]!, centre));
    }
    reached[before] = centre ?? reached[before]!;
    left.delete(k);
    next[before] = after;
    previous[after] = before;
    score[before] = radiusAt(p, previous[before]!, before, after);
    score[after] = radiusAt(p, before, after, next[after]!);
  }
  const [a, b] = [...left] as [number, number];
  // The two bisectors that are left are one line; the end at infinity, if any, is on the inner side of its hull edge.
  const [start, end] = reached[a] === null ? [a, b] : [b, a];
  const known = reached[end] ?? reached[start];
  if (known) edges.push(edge(p, p.hull[start]!, p.hull[end]!, reached[start]!, known));
  return edges;
}

function radiusAt(p: PlanPoints, before: number, k: number, after: number): number {
  const [a, b, c] = [p.hull[before]!, p.hull[k]!, p.hull[after]!];
  const length = (i: number, j: number) => Math.hypot(p.x[i]! - p.x[j]!, p.y[i]! - p.y[j]!);
  const area = (p.x[b]! - p.x[a]!) * (p.y[c]! - p.y[a]!) - (p.y[b]! - p.y[a]!) * (p.x[c]! - p.x[a]!);
  return area > 0 ? (length(a, b) * length(b, c) * length(c, a)) / area : Number.POSITIVE_INFINITY;
}

function edge(
  p: PlanPoints,
  a: number,
  b: number,
  one: readonly [number, number] | null,
  other: readonly [number, number],
): FarthestEdge {
  const [dx, dy] = [p.x[b]! - p.x[a]!, p.y[b]! - p.y[a]!];
  const length = Math.hypot(dx, dy);
  const [directionX, directionY] = [-dy / length, dx / length];
  const [x, y] = [(p.x[a]! + p.x[b]!) / 2, (p.y[a]! + p.y[b]!) / 2];
  const position = (at: readonly [number, number]) => (at[0] - x) * directionX + (at[1] - y) * directionY;
  const t = position(other);
  const s = one === null ? Number.POSITIVE_INFINITY : position(one);
  return { a, b, x, y, directionX, directionY, from: Math.min(s, t), to: Math.max(s, t) };
}
