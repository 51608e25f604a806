import { FACTOR, type LevelTimes, type LevelValues } from './pyramid.ts';

/** Equal columns of time on a chart. */
export interface TimeGrid {
  readonly from_ms: number;
  readonly column_ms: number;
  readonly columns: number;
}

/** Where the middle of a column lies. */
export const columnMiddle = ({ from_ms, column_ms }: TimeGrid, column: number): number =>
  from_ms + (column + 0.5) * column_ms;

/**
 * What of a line each column holds at least and at most. A column without a sample is `undefined` where the line goes
 * on over it, and `null` in a gap.
 */
export class LineColumns {
  readonly least: (number | null | undefined)[] = [];
  readonly greatest: (number | null | undefined)[] = [];
  private grid: TimeGrid;

  constructor(grid: TimeGrid) {
    this.grid = grid;
    this.empty(grid);
  }

  /** Empties it for another grid. */
  empty(grid: TimeGrid): this {
    this.grid = grid;
    this.least.length = grid.columns;
    this.greatest.length = grid.columns;
    this.least.fill(undefined);
    this.greatest.fill(undefined);
    return this;
  }

  /** Adds the samples of a level; several files of one channel add up. */
  add({ from, to }: LevelTimes, { least, greatest }: LevelValues, gap_ms: number): void {
    const { from_ms, column_ms, columns } = this.grid;
    const until_ms = from_ms + columns * column_ms;
    let before_ms = Number.NaN;
    for (let i = firstEndingAt(to, from_ms); i < from.length && from[i]! < until_ms; i++) {
      if (Number.isNaN(least[i]!)) continue;
      const column = Math.floor(((from[i]! + to[i]!) / 2 - from_ms) / column_ms);
      if (from[i]! - before_ms > gap_ms) this.gapAt((before_ms + from[i]!) / 2);
      before_ms = to[i]!;
      if (column >= 0 && column < columns) this.put(column, least[i]!, greatest[i]!);
    }
  }

  private put(column: number, least: number, greatest: number): void {
    const low = this.least[column];
    if (low === undefined || low === null || least < low) this.least[column] = least;
    const high = this.greatest[column];
    if (high === undefined || high === null || greatest > high) this.greatest[column] = greatest;
  }

  /** The line does not go on over an instant, unless there is a sample. */
  gapAt(at_ms: number): void {
    const column = Math.floor((at_ms - this.grid.from_ms) / this.grid.column_ms);
    if (this.least[column] !== undefined || column < 0 || column >= this.grid.columns) return;
    this.least[column] = null;
    this.greatest[column] = null;
  }
}

/** The first bucket that ends at an instant or later. */
export function firstEndingAt(to: Float64Array, at_ms: number): number {
  let [low, high] = [0, to.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (to[middle]! < at_ms) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * The coarsest level whose buckets are no longer than a column, so that nothing that could be seen is lost and little
 * is read.
 * @param span_ms of the whole file
 * @param rows of the whole file
 */
export function levelFor(span_ms: number, rows: number, levels: number, column_ms: number): number {
  const step_ms = span_ms / Math.max(1, rows - 1);
  let level = 0;
  while (level + 1 < levels && step_ms * FACTOR ** (level + 1) <= column_ms) level += 1;
  return level;
}
