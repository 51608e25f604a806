import { columnMiddle, LineColumns, type TimeGrid } from '../../../../../shared/logger/columns.ts';
import type { ChartContent, ChartLine, Stretch } from './chart-content.ts';
import type { Palette } from './palette.ts';
import { type PlanCorner, plannedOn } from './planned-on.ts';
import { padded, type Range } from './plot-scale.ts';

/** What a strip is drawn from. */
export interface StripWanted {
  readonly content: ChartContent;
  readonly grid: TimeGrid;
  /** What of it is seen: its values set the range. */
  readonly seen: Stretch;
  /** Height of the plot, CSS px. */
  readonly height: number;
  /** Pixels of the canvas for each CSS px. */
  readonly ratio: number;
  readonly colours: Palette;
  /**
   * Whether hands move the chart: lines are then drawn thin, without dashes and diamonds, which cost several times what
   * the lines do; names stand at their ends meanwhile.
   */
  readonly moving: boolean;
  /** What is shown of the values, from what they are. */
  readonly range: (own: Range) => Range;
}

const DASHES: readonly (readonly number[])[] = [[], [7, 3], [2, 3], [9, 3, 2, 3], [12, 4]];
const PLAN_DASH = [12, 4, 2, 4];
/** Diamonds are drawn where they stand as far apart as this; denser ones would be a smear. */
const APART_PX = 14;
const DIAMOND_PX = 4.5;

const dashOf = (line: number): readonly number[] => DASHES[(line + Math.floor(line / DASHES.length)) % DASHES.length]!;

export const penOf = ({ pens }: Palette, line: number): string => pens[line % pens.length]!;

/**
 * A picture of plan and lines, wider than what is seen of it, that a moving chart shows at other places and widths
 * until a new one is drawn. A column holds at most two points of a line: its least and its greatest value.
 */
export class Strip {
  readonly canvas = document.createElement('canvas');
  grid: TimeGrid = { from_ms: 0, column_ms: 1, columns: 0 };
  range: Range = { low: 0, high: 1 };
  moving = false;
  /** Whether it was drawn at all. */
  drawn = false;
  private height = 0;
  private readonly columns: LineColumns[] = [];
  lines: readonly ChartLine[] = [];

  /** Draws it in steps, between which the tablet may do something else. */
  *draw(wanted: StripWanted): Generator<void, void> {
    const { content, grid, seen } = wanted;
    this.grid = grid;
    this.height = wanted.height;
    this.moving = wanted.moving;
    this.drawn = true;
    let [low, high] = bandEnds(content.heats, seen);
    for (const [i, line] of content.lines.entries()) {
      this.columns[i] = line.columns(grid, this.columns[i] ?? new LineColumns(grid));
      const ends = endsOf(this.columns[i]!, grid, seen);
      low = Math.min(low, ends[0]);
      high = Math.max(high, ends[1]);
      yield;
    }
    this.lines = content.lines;
    this.range = wanted.range(padded(low, high));
    const ctx = this.blank(wanted.ratio);
    for (const corners of content.heats) this.drawPlan(ctx, corners, wanted.colours);
    for (const [i, line] of content.lines.entries()) {
      yield;
      this.drawLine(ctx, i, wanted);
      if (!wanted.moving) this.drawReadings(ctx, line, seen, penOf(wanted.colours, i), wanted.colours.sheet);
    }
  }

  /** The last value of a line at an instant or before, back to another; its latest reading where no sample is. */
  lastValue(line: number, { from_ms, to_ms }: Stretch): number | null {
    const { least } = this.columns[line]!;
    const columnAt = (at_ms: number) => Math.floor((at_ms - this.grid.from_ms) / this.grid.column_ms);
    const first = Math.max(0, columnAt(from_ms));
    for (let c = Math.min(this.grid.columns - 1, columnAt(to_ms)); c >= first; c--)
      if (typeof least[c] === 'number') return least[c]!;
    return this.lines[line]!.readings.findLast((r) => r.at_ms <= to_ms)?.value ?? null;
  }

  /** How far below the upper edge a value lies, CSS px. */
  y(value: number): number {
    return ((this.range.high - value) / (this.range.high - this.range.low)) * this.height;
  }

  private x(at_ms: number): number {
    return (at_ms - this.grid.from_ms) / this.grid.column_ms;
  }

  private blank(ratio: number): CanvasRenderingContext2D {
    const { canvas } = this;
    const [width, height] = [Math.round(this.grid.columns * ratio), Math.round(this.height * ratio)];
    const ctx = canvas.getContext('2d')!;
    if (canvas.width !== width || canvas.height !== height) {
      canvas.width = width;
      canvas.height = height;
    }
    ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
    ctx.clearRect(0, 0, this.grid.columns, this.height);
    ctx.lineJoin = 'round';
    return ctx;
  }

  private drawPlan(ctx: CanvasRenderingContext2D, corners: readonly PlanCorner[], colours: Palette): void {
    ctx.beginPath();
    for (const { at_ms, planned_C, band_K } of corners) ctx.lineTo(this.x(at_ms), this.y(planned_C + band_K));
    for (let i = corners.length - 1; i >= 0; i--) {
      const { at_ms, planned_C, band_K } = corners[i]!;
      ctx.lineTo(this.x(at_ms), this.y(planned_C - band_K));
    }
    ctx.fillStyle = colours.band;
    ctx.fill();
    ctx.beginPath();
    for (const { at_ms, planned_C } of corners) ctx.lineTo(this.x(at_ms), this.y(planned_C));
    ctx.strokeStyle = colours.line;
    ctx.lineWidth = 2;
    ctx.setLineDash(PLAN_DASH);
    ctx.stroke();
  }

  private drawLine(ctx: CanvasRenderingContext2D, line: number, { colours, moving }: StripWanted): void {
    const { least, greatest } = this.columns[line]!;
    let drawing = false;
    ctx.beginPath();
    for (let c = 0; c < this.grid.columns; c++) {
      const low = least[c];
      if (low === null) drawing = false;
      if (low === null || low === undefined) continue;
      const x = c + 0.5;
      const y = this.y(low);
      if (drawing) ctx.lineTo(x, y);
      else ctx.moveTo(x, y);
      drawing = true;
      const top = this.y(greatest[c]!);
      // Less than half a pixel apart is one point.
      if (y - top > 0.5) ctx.lineTo(x, top);
    }
    ctx.strokeStyle = penOf(colours, line);
    ctx.lineWidth = moving ? 1 : 1.5;
    ctx.setLineDash(moving ? [] : dashOf(line));
    ctx.stroke();
  }

  private drawReadings(
    ctx: CanvasRenderingContext2D,
    { readings }: ChartLine,
    { from_ms, to_ms }: Stretch,
    pen: string,
    sheet: string,
  ): void {
    const inside = readings.filter((r) => r.at_ms >= from_ms && r.at_ms <= to_ms);
    if (inside.length * APART_PX > (to_ms - from_ms) / this.grid.column_ms) return;
    ctx.strokeStyle = pen;
    ctx.fillStyle = sheet;
    ctx.lineWidth = 1.5;
    ctx.setLineDash([]);
    for (const { at_ms, value } of inside) {
      const [x, y] = [this.x(at_ms), this.y(value)];
      ctx.beginPath();
      ctx.moveTo(x, y - DIAMOND_PX);
      ctx.lineTo(x + DIAMOND_PX, y);
      ctx.lineTo(x, y + DIAMOND_PX);
      ctx.lineTo(x - DIAMOND_PX, y);
      ctx.closePath();
      ctx.fill();
      ctx.stroke();
    }
  }
}

/** Least and greatest of a line in what is seen; infinite where it has nothing there. */
function endsOf({ least, greatest }: LineColumns, grid: TimeGrid, { from_ms, to_ms }: Stretch): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let c = 0; c < grid.columns; c++) {
    const value = least[c];
    if (value === null || value === undefined) continue;
    const at_ms = columnMiddle(grid, c);
    if (at_ms < from_ms || at_ms > to_ms) continue;
    low = Math.min(low, value);
    high = Math.max(high, greatest[c]!);
  }
  return [low, high];
}

/** Least and greatest of the bands in what is seen. */
function bandEnds(heats: readonly (readonly PlanCorner[])[], { from_ms, to_ms }: Stretch): [number, number] {
  const inside = heats.flat().filter((c) => c.at_ms >= from_ms && c.at_ms <= to_ms);
  const edges = plannedOn(heats, [from_ms, to_ms]);
  const known = (values: readonly (number | null)[]) => values.filter((v) => v !== null);
  return [
    Math.min(...inside.map((c) => c.planned_C - c.band_K), ...known(edges.low)),
    Math.max(...inside.map((c) => c.planned_C + c.band_K), ...known(edges.high)),
  ];
}
