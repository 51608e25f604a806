export { spreadLabels } from '../../parts/spread-labels.ts';

/** A point of a line on a chart: an instant in ms and a value. */
export interface ChartPoint {
  readonly at_ms: number;
  readonly value: number;
}

/** Where instants and values lie on the paper. */
export interface ChartScale {
  readonly x: (at_ms: number) => number;
  readonly y: (value: number) => number;
}

export function chartScale(box: {
  left: number;
  right: number;
  top: number;
  bottom: number;
  from_ms: number;
  to_ms: number;
  low: number;
  high: number;
}): ChartScale {
  const { left, right, top, bottom, from_ms, to_ms, low, high } = box;
  return {
    x: (at_ms) => left + ((at_ms - from_ms) / (to_ms - from_ms)) * (right - left),
    y: (value) => bottom - ((value - low) / (high - low)) * (bottom - top),
  };
}

/**
 * Leaves of a long line what the eye can see: of each column of the chart the first, least, greatest and last point, in
 * their order. Peaks are never lost.
 */
export function thin(points: readonly ChartPoint[], from_ms: number, to_ms: number, columns: number): ChartPoint[] {
  if (points.length <= 2 * columns) return [...points];
  const kept: ChartPoint[] = [];
  let column: ChartPoint[] = [];
  let at = -1;
  const end = () => {
    if (column.length === 0) return;
    const byValue = [...column].sort((a, b) => a.value - b.value);
    const wanted = new Set([column[0]!, byValue[0]!, byValue.at(-1)!, column.at(-1)!]);
    kept.push(...column.filter((p) => wanted.has(p)));
  };
  for (const point of points) {
    const here = Math.floor(((point.at_ms - from_ms) / (to_ms - from_ms)) * columns);
    if (here !== at) {
      end();
      column = [];
      at = here;
    }
    column.push(point);
  }
  end();
  return kept;
}

/** The points of a line as SVG wants them. */
export const lineOf = (points: readonly ChartPoint[], { x, y }: ChartScale): string =>
  points.map((p) => `${x(p.at_ms).toFixed(1)},${y(p.value).toFixed(1)}`).join(' ');
