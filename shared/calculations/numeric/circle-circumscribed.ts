import type { Circle } from './circle-model.ts';
import { circumcentre, type PlanPoints } from './plan-points.ts';

/** Shares of the extent: a point beyond the circle by less is rounding. */
const ROUNDING = 1e-15;

/**
 * The least circle that holds all points: two or three points carry it; the farthest point outside joins them and the
 * least circle of these few takes over. It grows each time and so ends; where rounding hides the growth, the end is
 * the first set of carriers to come again.
 */
export function circumscribedCircle(p: PlanPoints): Circle {
  let best = leastCircle(p, [p.hull[0]!])!;
  const seen = new Set<string>();
  for (;;) {
    const { circle, carriers } = best;
    let farthest = -1;
    let most = circle.radius + ROUNDING;
    for (const i of p.hull) {
      const distance = Math.hypot(p.x[i]! - circle.x, p.y[i]! - circle.y);
      if (distance > most) [farthest, most] = [i, distance];
    }
    if (farthest < 0 || carriers.includes(farthest)) return circle;
    const next = leastCircle(p, [...carriers, farthest]);
    if (next === null) return { ...circle, radius: most };
    const key = [...next.carriers].sort((a, b) => a - b).join();
    if (seen.has(key)) return { ...circle, radius: most };
    seen.add(key);
    best = next;
  }
}

interface Carried {
  readonly circle: Circle;
  readonly carriers: number[];
}

/** Of up to four points: the least among the circles on one, two or three of them that hold all. */
function leastCircle(p: PlanPoints, points: number[]): Carried | null {
  let least: Carried | null = null;
  for (const carriers of subsets(points)) {
    const circle = circleOn(p, carriers);
    if (circle === null || (least && circle.radius >= least.circle.radius)) continue;
    const holds = points.every(
      (i) => carriers.includes(i) || Math.hypot(p.x[i]! - circle.x, p.y[i]! - circle.y) <= circle.radius + 4 * ROUNDING,
    );
    if (holds) least = { circle, carriers };
  }
  return least;
}

function subsets(points: number[]): number[][] {
  const all: number[][] = [[]];
  for (const point of points) all.push(...all.filter((s) => s.length < 3).map((s) => [...s, point]));
  return all.filter((s) => s.length > 0);
}

function circleOn(p: PlanPoints, on: number[]): Circle | null {
  const [a, b, c] = on as [number, number | undefined, number | undefined];
  if (b === undefined) return { x: p.x[a]!, y: p.y[a]!, radius: 0 };
  const centre = c === undefined ? [(p.x[a]! + p.x[b]!) / 2, (p.y[a]! + p.y[b]!) / 2] : circumcentre(p.x, p.y, a, b, c);
  if (centre === null) return null;
  const [x, y] = centre as [number, number];
  return { x, y, radius: Math.max(...on.map((i) => Math.hypot(p.x[i]! - x, p.y[i]! - y))) };
}
