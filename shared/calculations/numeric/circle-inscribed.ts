import type { Circle } from './circle-model.ts';
import type { PlanPoints } from './plan-points.ts';

/** Radii closer than this (in extents) are equal; of equal ones the nearest to the least-squares centre counts. */
const EQUAL = 4e-14;

/** A corner beyond a half plane by less (in extents) is on its line: cuts through one place do not pile up. */
const ROUNDING = 2e-14;

/** The half plane a·x + b·y ≤ c, about a point taken as origin. */
interface HalfPlane {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** A convex polygon; side k, on the line `sides[k]`, runs from corner k to corner k + 1. */
interface Polygon {
  x: number[];
  y: number[];
  sides: HalfPlane[];
}

/**
 * The largest circle with no point inside and its centre in the convex hull. Its centre is a corner of the Voronoi
 * cell of a point, cut by the hull (Toussaint, Int. J. Comput. Inf. Sci. 12, 1983). Each cell is cut out of the hull
 * half plane by half plane and given up as soon as no corner is farther from its point than the best so far.
 */
export function inscribedCircle(p: PlanPoints, leastSquares: Circle): Circle {
  let best: Circle = { x: p.x[0]!, y: p.y[0]!, radius: 0 };
  const away = (c: Circle) => Math.hypot(c.x - leastSquares.x, c.y - leastSquares.y);
  const order = spreadOrder(p.x.length);
  const hullSides = sidesOfHull(p);
  for (const i of order) {
    const cell = cellOf(p, i, order, hullSides, Math.max(0, best.radius - EQUAL));
    if (cell === null) continue;
    for (const [k, x] of cell.x.entries()) {
      const y = cell.y[k]!;
      const circle = { x: p.x[i]! + x, y: p.y[i]! + y, radius: Math.hypot(x, y) };
      const level = circle.radius >= best.radius - EQUAL && away(circle) < away(best);
      if (circle.radius > best.radius + EQUAL || level) best = circle;
    }
  }
  return best;
}

/** All indexes, early ones spread over the whole, so that a cell shrinks at once. */
function spreadOrder(n: number): number[] {
  const golden = (Math.sqrt(5) - 1) / 2;
  return Array.from({ length: n }, (_, k) => k).sort((a, b) => ((a * golden) % 1) - ((b * golden) % 1));
}

interface HullSide {
  readonly from: number;
  readonly normalX: number;
  readonly normalY: number;
}

/** Outward unit normals of the hull's sides. */
function sidesOfHull(p: PlanPoints): HullSide[] {
  return p.hull.map((from, k) => {
    const to = p.hull[(k + 1) % p.hull.length]!;
    const [dx, dy] = [p.x[to]! - p.x[from]!, p.y[to]! - p.y[from]!];
    const length = Math.hypot(dx, dy);
    return { from, normalX: dy / length, normalY: -dx / length };
  });
}

/** The places in the hull nearest to point i, about that point; null once none is `least` away from it. */
function cellOf(p: PlanPoints, i: number, order: number[], hullSides: HullSide[], least: number): Polygon | null {
  const [px, py] = [p.x[i]!, p.y[i]!];
  let cell: Polygon | null = {
    x: [2, -2, -2, 2],
    y: [2, 2, -2, -2],
    sides: [
      { a: 0, b: 1, c: 2 },
      { a: -1, b: 0, c: 2 },
      { a: 0, b: -1, c: 2 },
      { a: 1, b: 0, c: 2 },
    ],
  };
  for (const j of order) {
    const dx = p.x[j]! - px;
    const dy = p.y[j]! - py;
    const length = Math.sqrt(dx * dx + dy * dy);
    if (length === 0) continue;
    const a = dx / length;
    const b = dy / length;
    const c = length / 2;
    if (!reaches(cell, a, b, c)) continue;
    cell = cut(cell, { a, b, c }, least);
    if (cell === null) return null;
  }
  // The hull last: a cell has few corners by now, the hull may have thousands.
  for (const { from, normalX: a, normalY: b } of hullSides) {
    const c = Math.max(0, a * (p.x[from]! - px) + b * (p.y[from]! - py));
    if (!reaches(cell, a, b, c)) continue;
    cell = cut(cell, { a, b, c }, least);
    if (cell === null) return null;
  }
  return cell;
}

/** Whether a corner lies beyond a·x + b·y = c. */
function reaches({ x, y }: Polygon, a: number, b: number, c: number): boolean {
  const limit = c + ROUNDING;
  for (let k = 0; k < x.length; k++) if (a * x[k]! + b * y[k]! > limit) return true;
  return false;
}

/** What is left of the polygon in the half plane; null once it is empty or all of it within `least` of the origin. */
function cut({ x, y, sides }: Polygon, side: HalfPlane, least: number): Polygon | null {
  const limit = side.c + ROUNDING;
  const kept: Polygon = { x: [], y: [], sides: [] };
  const n = x.length;
  let here = side.a * x[0]! + side.b * y[0]! - limit;
  for (let k = 0; k < n; k++) {
    const after = k + 1 < n ? k + 1 : 0;
    const there = side.a * x[after]! + side.b * y[after]! - limit;
    if (here <= 0) {
      kept.x.push(x[k]!);
      kept.y.push(y[k]!);
      kept.sides.push(sides[k]!);
    }
    if (here <= 0 !== there <= 0) {
      const [cx, cy] = meeting(sides[k]!, side, x, y, k, after, here / (here - there));
      kept.x.push(cx);
      kept.y.push(cy);
      kept.sides.push(here <= 0 ? side : sides[k]!);
    }
    here = there;
  }
  for (let k = 0; k < kept.x.length; k++) if (kept.x[k]! ** 2 + kept.y[k]! ** 2 >= least * least) return kept;
  return null;
}

/** Where two lines meet, from the lines themselves; from the corners' ends where they are nearly parallel. */
function meeting(
  one: HalfPlane,
  other: HalfPlane,
  x: number[],
  y: number[],
  from: number,
  to: number,
  share: number,
): readonly [number, number] {
  const det = one.a * other.b - one.b * other.a;
  if (Math.abs(det) > 1e-6)
    return [(one.c * other.b - one.b * other.c) / det, (one.a * other.c - one.c * other.a) / det];
  return [x[from]! + share * (x[to]! - x[from]!), y[from]! + share * (y[to]! - y[from]!)];
}
