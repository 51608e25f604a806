import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { columnMiddle, type LineColumns, type TimeGrid } from '../../../../../shared/logger/columns.ts';
import { spreadLabels } from '../../../parts/spread-labels.ts';
import { type PlanCorner, plannedOn } from './heat-outline.ts';
import type { Palette } from './palette.ts';
import type { TimeTicks } from './time-ticks.ts';

/** A line of the chart: the samples of one channel, and what people read of it in rounds. */
export interface ChartLine {
  readonly name: string;
  /** Whether a logger sampled it; else the line goes from round to round. */
  readonly sampled: boolean;
  /** The samples in the columns of a grid. */
  readonly columns: (grid: TimeGrid) => LineColumns;
  readonly readings: readonly { readonly at_ms: number; readonly value: number }[];
}

/** A mark on the time axis. */
export interface ChartMark {
  readonly at_ms: number;
  readonly kind: 'hold' | 'finding';
}

export interface Stretch {
  readonly from_ms: number;
  readonly to_ms: number;
}

export interface ChartContent {
  readonly lines: readonly ChartLine[];
  readonly heats: readonly (readonly PlanCorner[])[];
  readonly marks: readonly ChartMark[];
  readonly now_ms: number;
}

const DASHES: readonly (readonly number[])[] = [[], [7, 3], [2, 3], [9, 3, 2, 3], [12, 4]];
const FIGURES = '13px "Atkinson Hyperlegible Mono Variable", ui-monospace, monospace';
/** The grid reaches so far beyond the stretch, on each side, that a pan need not make it anew. */
const MARGIN = 0.5;
/** A zoom by so much wants a grid of its own. */
const ZOOM = 1.25;
/** Below this a steady furnace would be drawn as noise, K. */
const LEAST_SPAN = 2;
/** Diamonds are drawn where they stand as far apart as this; denser ones would be a smear. */
const APART_PX = 14;
const LABEL_PX = 58;
const AXIS_PX = 56;
const TICK_PX = 74;

/** A chart of months: drawn from as many columns as it has pixels, whatever lies behind them. */
export class TimeChart {
  private readonly plot: uPlot;
  private readonly host: HTMLElement;
  private readonly ticks: TimeTicks;
  private colours: Palette;
  private content: ChartContent;
  private stretch: Stretch;
  private grid: TimeGrid | null = null;
  private picked_ms: number | null = null;

  constructor(
    host: HTMLElement,
    options: { ticks: TimeTicks; colours: Palette; content: ChartContent; stretch: Stretch },
  ) {
    this.host = host;
    this.ticks = options.ticks;
    this.colours = options.colours;
    this.content = options.content;
    this.stretch = options.stretch;
    this.plot = this.make();
    this.show(options.stretch);
  }

  /** What takes fingers and the wheel. */
  get over(): HTMLElement {
    return this.plot.over;
  }

  /** Pixels that the plot is wide; told by its place, since on paper nothing lies over it. */
  private get across(): number {
    return Math.max(50, this.host.clientWidth - AXIS_PX - LABEL_PX);
  }

  destroy(): void {
    this.plot.destroy();
  }

  /** The instant under a place of the plot, px from its left edge. */
  instantAt(x: number): number {
    return this.stretch.from_ms + (x / this.plot.over.clientWidth) * (this.stretch.to_ms - this.stretch.from_ms);
  }

  show(stretch: Stretch): void {
    this.stretch = stretch;
    this.plot.batch(() => {
      if (!this.reaches(stretch)) this.fill();
      this.plot.setScale('x', { min: stretch.from_ms, max: stretch.to_ms });
    });
  }

  /** Samples have come, the clock has moved on, or other lines of as many are wanted. */
  refill(content: ChartContent): void {
    this.content = content;
    this.grid = null;
    this.show(this.stretch);
  }

  pick(at_ms: number | null): void {
    this.picked_ms = at_ms;
    this.plot.redraw(false);
  }

  paint(colours: Palette): void {
    this.colours = colours;
    this.plot.redraw(false);
  }

  resize(): void {
    const { clientWidth: width, clientHeight: height } = this.host;
    if (width === 0 || height === 0) return;
    this.grid = null;
    this.plot.setSize({ width, height });
    this.show(this.stretch);
  }

  private reaches({ from_ms, to_ms }: Stretch): boolean {
    if (!this.grid) return false;
    const { grid } = this;
    const wanted = (to_ms - from_ms) / this.across;
    const zoomed = Math.max(wanted / grid.column_ms, grid.column_ms / wanted);
    return zoomed < ZOOM && from_ms >= grid.from_ms && to_ms <= grid.from_ms + grid.columns * grid.column_ms;
  }

  private fill(): void {
    const { from_ms, to_ms } = this.stretch;
    const width_ms = to_ms - from_ms;
    const { across } = this;
    const grid: TimeGrid = {
      from_ms: from_ms - MARGIN * width_ms,
      column_ms: width_ms / across,
      columns: Math.ceil(across * (1 + 2 * MARGIN)),
    };
    this.grid = grid;
    this.plot.setData(alignedData(grid, this.content), false);
  }

  private make(): uPlot {
    const { content } = this;
    const axis = { font: FIGURES, stroke: () => this.colours.label };
    const grid = { stroke: () => this.colours.grid, width: 1 };
    return new uPlot(
      {
        width: this.host.clientWidth,
        height: this.host.clientHeight,
        ms: 1,
        pxAlign: 0,
        padding: [18, LABEL_PX, 0, 0],
        cursor: { show: false },
        legend: { show: false },
        scales: {
          x: { time: true, auto: false },
          y: { range: (_, min, max) => padded(min, max) },
        },
        axes: [
          {
            ...axis,
            grid,
            ticks: grid,
            space: TICK_PX,
            splits: (_, _axis, min, max) => this.ticks.at(min, max, ((max - min) / this.across) * TICK_PX),
            values: (_, splits) => splits.map((at) => this.ticks.words(at)),
          },
          {
            ...axis,
            grid,
            ticks: grid,
            size: AXIS_PX,
            values: (_, splits) => splits.map((v) => String(v).replace('-', '−')),
          },
        ],
        series: [
          {},
          { label: 'low', stroke: 'transparent', points: { show: false } },
          { label: 'high', stroke: 'transparent', points: { show: false } },
          { label: 'plan', stroke: () => this.colours.line, width: 2, dash: [12, 4, 2, 4], points: { show: false } },
          ...content.lines.map(({ name }, i) => ({
            label: name,
            stroke: () => this.penOf(i),
            width: 1.5,
            dash: [...dashOf(i)],
            points: { show: false },
          })),
        ],
        bands: [{ series: [2, 1], fill: () => this.colours.band }],
        hooks: { draw: [(u) => this.draw(u)] },
      },
      [[], [], [], [], ...content.lines.map(() => [])] as unknown as uPlot.AlignedData,
      this.host,
    );
  }

  private penOf(line: number): string {
    const { pens } = this.colours;
    return pens[line % pens.length]!;
  }

  /** What stands over the lines: readings of rounds, marks, the index, and the names at the ends. */
  private draw(u: uPlot): void {
    const { ctx, bbox } = u;
    const px = uPlot.pxRatio;
    ctx.save();
    ctx.setLineDash([]);
    ctx.beginPath();
    ctx.rect(bbox.left - 8 * px, bbox.top - 16 * px, bbox.width + 16 * px, bbox.height + 16 * px);
    ctx.clip();
    for (const [i, line] of this.content.lines.entries()) this.drawReadings(u, line, this.penOf(i));
    for (const mark of this.content.marks) this.drawMark(u, mark);
    this.drawUpright(u, this.content.now_ms, this.colours.index, [2, 3]);
    if (this.picked_ms !== null) this.drawUpright(u, this.picked_ms, this.colours.index, []);
    ctx.restore();
    this.drawNames(u);
  }

  private drawUpright({ ctx, bbox, valToPos }: uPlot, at_ms: number, stroke: string, dash: number[]): void {
    const x = valToPos(at_ms, 'x', true);
    ctx.strokeStyle = stroke;
    ctx.lineWidth = 2 * uPlot.pxRatio;
    ctx.setLineDash(dash.map((d) => d * uPlot.pxRatio));
    ctx.beginPath();
    ctx.moveTo(x, bbox.top);
    ctx.lineTo(x, bbox.top + bbox.height);
    ctx.stroke();
    ctx.setLineDash([]);
  }

  private drawReadings(u: uPlot, { readings }: ChartLine, pen: string): void {
    const { from_ms, to_ms } = this.stretch;
    const inside = readings.filter((r) => r.at_ms >= from_ms && r.at_ms <= to_ms);
    const { ctx } = u;
    if (inside.length * APART_PX > this.across) return;
    const size = 4.5 * uPlot.pxRatio;
    ctx.strokeStyle = pen;
    ctx.fillStyle = this.colours.sheet;
    ctx.lineWidth = 1.5 * uPlot.pxRatio;
    for (const { at_ms, value } of inside) {
      const [x, y] = [u.valToPos(at_ms, 'x', true), u.valToPos(value, 'y', true)];
      ctx.beginPath();
      ctx.moveTo(x, y - size);
      ctx.lineTo(x + size, y);
      ctx.lineTo(x, y + size);
      ctx.lineTo(x - size, y);
      ctx.closePath();
      ctx.fill();
      ctx.stroke();
    }
  }

  /** Two posts for a hold point, an open diamond for a finding, over the plot. */
  private drawMark(u: uPlot, { at_ms, kind }: ChartMark): void {
    const { ctx, bbox } = u;
    const px = uPlot.pxRatio;
    const x = u.valToPos(at_ms, 'x', true);
    const y = bbox.top - 8 * px;
    ctx.strokeStyle = kind === 'finding' ? this.colours.outside : this.colours.ink;
    ctx.lineWidth = 2 * px;
    ctx.beginPath();
    if (kind === 'hold') {
      for (const side of [-4, 4]) {
        ctx.moveTo(x + side * px, y - 6 * px);
        ctx.lineTo(x + side * px, y + 6 * px);
      }
    } else {
      ctx.moveTo(x, y - 5 * px);
      ctx.lineTo(x + 5 * px, y);
      ctx.lineTo(x, y + 5 * px);
      ctx.lineTo(x - 5 * px, y);
      ctx.closePath();
    }
    ctx.stroke();
  }

  private drawNames(u: uPlot): void {
    const { ctx, bbox } = u;
    const px = uPlot.pxRatio;
    const ends = this.content.lines.map((line, i) => {
      const data = u.data[i + 4]!;
      let at = Math.min(data.length - 1, u.valToIdx(this.stretch.to_ms));
      const least = u.valToIdx(this.stretch.from_ms);
      while (at > least && (data[at] === undefined || data[at] === null)) at -= 1;
      const sample = data[at] ?? line.readings.findLast((r) => r.at_ms <= this.stretch.to_ms)?.value ?? null;
      return sample === null ? null : u.valToPos(sample, 'y');
    });
    const shown = ends.flatMap((y, i) => (y === null ? [] : [{ y, i }]));
    const height = bbox.height / px;
    const placed = spreadLabels(
      shown.map(({ y }) => Math.max(4, Math.min(height, y))),
      15,
      4,
      height,
    );
    ctx.save();
    ctx.font = FIGURES.replace('13px', `${13 * px}px`);
    ctx.textBaseline = 'middle';
    ctx.textAlign = 'left';
    shown.forEach(({ i }, n) => {
      ctx.fillStyle = this.penOf(i);
      ctx.fillText(this.content.lines[i]!.name, bbox.left + bbox.width + 6 * px, bbox.top + placed[n]! * px);
    });
    ctx.restore();
  }
}

const dashOf = (line: number): readonly number[] => DASHES[(line + Math.floor(line / DASHES.length)) % DASHES.length]!;

/** Room above and below, and never so little that noise fills the sheet. */
function padded(min: number | null, max: number | null): [number, number] {
  if (min === null || max === null) return [0, 100];
  const span = Math.max(LEAST_SPAN, max - min);
  const middle = (min + max) / 2;
  return [middle - span * 0.55, middle + span * 0.55];
}

/** Two points a column, least and greatest, so that the line shows both. */
function alignedData(grid: TimeGrid, { lines, heats }: ChartContent): uPlot.AlignedData {
  const instants: number[] = new Array(2 * grid.columns);
  for (let c = 0; c < grid.columns; c++) {
    const middle = columnMiddle(grid, c);
    instants[2 * c] = middle;
    instants[2 * c + 1] = middle;
  }
  const { planned, low, high } = plannedOn(heats, instants);
  const values = lines.map((line) => {
    const { least, greatest } = line.columns(grid);
    const both: (number | null | undefined)[] = new Array(2 * grid.columns);
    for (let c = 0; c < grid.columns; c++) {
      both[2 * c] = least[c];
      both[2 * c + 1] = greatest[c];
    }
    return both;
  });
  return [instants, low, high, planned, ...values] as uPlot.AlignedData;
}
