import { chebyshevFit } from './chebyshev-fit.ts';
import { type FarthestEdge, farthestEdges } from './circle-farthest-edges.ts';
import { FARTHEST } from './circle-least-squares.ts';
import { type Circle, circleOf, distances, modelOf, moved, sensitivities } from './circle-model.ts';
import type { PlanPoints } from './plan-points.ts';

/** Two concentric circles that hold all points between them. */
export interface Zone {
  readonly x: number;
  readonly y: number;
  readonly inner: number;
  readonly outer: number;
  readonly width: number;
}

/** Widths closer than this are equal; of equal ones the nearest to the least-squares centre counts. */
const equalTo = (width: number): number => 4e-15 + 1e-12 * width;
/** A zone of this width in extents is rounding: no centre is better. */
const NOTHING = 1e-14;

/**
 * The least zone over all centres. At the best centre two points or more are farthest and two or more are nearest,
 * so it lies on an edge of the farthest-point Voronoi diagram where the nearest point changes, or at infinity, where
 * the zone is the narrowest strip. Edges that cannot beat the best so far are left out by a lower bound.
 * @returns width alone, the rest null, where the least is only reached at infinity.
 */
export function minimumZone(p: PlanPoints, leastSquares: Circle): Zone | { width: number } {
  const search = new Search(p, leastSquares);
  search.offer(leastSquares.x, leastSquares.y);
  if (search.finished().width <= NOTHING) return search.finished();
  const edges = farthestEdges(p);
  for (const e of edges) for (const t of [e.from, e.to]) if (Number.isFinite(t)) search.offerOn(e, t);
  for (const e of edges) search.along(e);
  const best = search.finished();
  return p.width < best.width - equalTo(best.width) ? { width: p.width } : best;
}

/** A stretch of an edge with the nearest point at either end. */
interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly nearFrom: number;
  readonly nearTo: number;
}

class Search {
  private best: Zone | null = null;
  private readonly p: PlanPoints;
  private readonly leastSquares: Circle;

  constructor(p: PlanPoints, leastSquares: Circle) {
    this.p = p;
    this.leastSquares = leastSquares;
  }

  private get bound(): number {
    return this.best === null ? Number.POSITIVE_INFINITY : this.best.width + equalTo(this.best.width);
  }

  offerOn(e: FarthestEdge, t: number): void {
    this.offer(e.x + t * e.directionX, e.y + t * e.directionY);
  }

  /** Takes the centre where its zone is narrower, or as narrow and nearer to the least-squares centre. */
  offer(x: number, y: number): void {
    if (!(Math.hypot(x, y) <= FARTHEST)) return;
    const zone = zoneAt(this.p, x, y);
    if (zone.width > this.bound) return;
    const away = (z: Zone) => Math.hypot(z.x - this.leastSquares.x, z.y - this.leastSquares.y);
    if (this.best === null || zone.width < this.best.width - equalTo(this.best.width)) this.best = polish(this.p, zone);
    else if (away(zone) < away(this.best)) this.best = zone;
  }

  finished(): Zone {
    return this.best!;
  }

  /** All places on the edge where the nearest point changes, except where they cannot be the best. */
  along(e: FarthestEdge): void {
    const nearFrom = this.nearest(e, e.from);
    const nearTo = Number.isFinite(e.to) ? this.nearest(e, e.to) : this.nearestAtInfinity(e);
    const open: Stretch[] = [{ from: e.from, to: e.to, nearFrom, nearTo }];
    for (let stretch = open.pop(); stretch !== undefined; stretch = open.pop()) {
      // With one nearest point throughout, moving straight away from it is never worse: the best is elsewhere.
      if (stretch.nearFrom === stretch.nearTo || stretch.to - stretch.from <= 1e-14) continue;
      const [one, other] = [this.ray(e, stretch.nearFrom), this.ray(e, stretch.nearTo)];
      const t = (one.square - other.square) / (2 * (one.along - other.along));
      const inside = t > stretch.from && t < stretch.to;
      const change = inside ? t : stretch.from;
      const least = Math.min(
        leastDifference(e, this.p, one, stretch.from, change),
        leastDifference(e, this.p, other, change, stretch.to),
      );
      if (least > this.bound) continue;
      const near = this.nearest(e, change);
      if (near === stretch.nearFrom || near === stretch.nearTo || !inside || this.level(e, near, one, change)) {
        this.offerOn(e, change);
        continue;
      }
      open.push(
        { from: stretch.from, to: t, nearFrom: stretch.nearFrom, nearTo: near },
        { from: t, to: stretch.to, nearFrom: near, nearTo: stretch.nearTo },
      );
    }
  }

  /** Whether point `near` is no nearer than the one of `ray` at t. */
  private level(e: FarthestEdge, near: number, ray: Ray, t: number): boolean {
    const other = this.ray(e, near);
    const [a, b] = [ray.square - 2 * ray.along * t, other.square - 2 * other.along * t];
    return a - b <= 4 * Number.EPSILON * (1 + Math.abs(t));
  }

  private ray(e: FarthestEdge, q: number): Ray {
    const [dx, dy] = [this.p.x[q]! - e.x, this.p.y[q]! - e.y];
    return {
      along: dx * e.directionX + dy * e.directionY,
      across: Math.abs(dx * e.directionY - dy * e.directionX),
      square: dx * dx + dy * dy,
    };
  }

  private nearest(e: FarthestEdge, t: number): number {
    const { x, y } = this.p;
    const [cx, cy] = [e.x + t * e.directionX, e.y + t * e.directionY];
    let near = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < x.length; i++) {
      // Distance squared, less what is the same for all points.
      const square = x[i]! * (x[i]! - 2 * cx) + y[i]! * (y[i]! - 2 * cy);
      if (square < least) [near, least] = [i, square];
    }
    return near;
  }

  private nearestAtInfinity(e: FarthestEdge): number {
    const { x, y } = this.p;
    let near = 0;
    for (let i = 1; i < x.length; i++) {
      const ahead = (x[i]! - x[near]!) * e.directionX + (y[i]! - y[near]!) * e.directionY;
      if (ahead > 0 || (ahead === 0 && this.ray(e, i).square < this.ray(e, near).square)) near = i;
    }
    return near;
  }
}

/** A point seen from the halfway point of an edge: along the edge, across it, distance squared. */
interface Ray {
  readonly along: number;
  readonly across: number;
  readonly square: number;
}

/** Least of (distance to the farthest corners − distance to one point) along the edge between two positions. */
function leastDifference(e: FarthestEdge, p: PlanPoints, ray: Ray, from: number, to: number): number {
  const half = Math.hypot(p.x[e.a]! - e.x, p.y[e.a]! - e.y);
  const at = (t: number): number => {
    if (!Number.isFinite(t)) return ray.along;
    const [far, near] = [Math.hypot(half, t), Math.hypot(ray.across, t - ray.along)];
    return far + near > 0 ? (half * half - ray.square + 2 * ray.along * t) / (far + near) : 0;
  };
  // Where both distances change alike.
  const alike = (half * ray.along) / (half - ray.across);
  const inside = alike > from && alike < to;
  return Math.min(at(from), at(to), inside ? at(alike) : Number.POSITIVE_INFINITY);
}

/** The zone about a centre; distances are taken from that of the middle, which keeps the digits of far centres. */
function zoneAt(p: PlanPoints, x: number, y: number): Zone {
  const reach = Math.hypot(x, y);
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < p.x.length; i++) {
    const [px, py] = [p.x[i]!, p.y[i]!];
    const distance = Math.hypot(px - x, py - y);
    const more = distance + reach > 0 ? (px * (px - 2 * x) + py * (py - 2 * y)) / (distance + reach) : 0;
    low = Math.min(low, more);
    high = Math.max(high, more);
  }
  return { x, y, inner: reach + low, outer: reach + high, width: high - low };
}

/** Steps to the exact support points nearby: the linear programme of the small changes, until nothing is gained. */
function polish(p: PlanPoints, start: Zone): Zone {
  let zone = start;
  for (let count = 0; count < 50; count++) {
    const model = modelOf({ x: zone.x, y: zone.y, radius: (zone.inner + zone.outer) / 2 }, p.x, p.y);
    const residuals = distances(model, p.x, p.y);
    const step = chebyshevFit(
      sensitivities(model, p.x, p.y),
      residuals.map((d) => -d),
    );
    const next = step && moved(model, step.coefficients);
    const circle = next && circleOf(next);
    if (!circle || !(circle.radius <= FARTHEST)) return zone;
    const better = zoneAt(p, circle.x, circle.y);
    if (!(better.width < zone.width)) return zone;
    zone = better;
  }
  return zone;
}
