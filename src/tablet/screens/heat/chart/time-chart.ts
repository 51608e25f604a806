import { spreadLabels } from '../../../parts/spread-labels.ts';
import type { ChartContent, ChartMark, Stretch } from './chart-content.ts';
import type { Palette } from './palette.ts';
import { joined, valueTicks } from './plot-scale.ts';
import { penOf, Strip } from './strip.ts';
import type { TimeTicks } from './time-ticks.ts';

const FIGURES = '13px "Atkinson Hyperlegible Mono Variable", ui-monospace, monospace';
/** A strip reaches so far beyond what is seen, on each side, as a share of its width. */
const MARGIN = 0.5;
/** A strip is shown wider or narrower by so much at most before another is wanted. */
const ZOOM = 1.4;
/** Less margin than this share on one side wants another strip. */
const LEAST_MARGIN = 0.12;
/** So long nothing must have moved before the chart is drawn as it stands, ms. */
const REST_MS = 120;
/** Of a frame, what the drawing of the next strip may take, ms. */
const STEPS_MS = 5;
const VALUE_APART_PX = 34;
const TOP_PX = 18;
const BELOW_PX = 30;
const LEFT_PX = 56;
const RIGHT_PX = 58;
const TICK_PX = 74;

interface Options {
  readonly ticks: TimeTicks;
  readonly colours: Palette;
  readonly content: ChartContent;
  readonly stretch: Stretch;
  /** Told when the chart stands still and all of its content is drawn. */
  readonly onRest: () => void;
}

/**
 * A chart of months. Plan and lines are drawn on a strip, from as many columns as it has pixels, whatever lies behind
 * them. A frame puts the strip where it belongs and draws scales and marks over it; while hands move the chart the next
 * strip is drawn piece by piece, and once it rests one that is exact.
 */
export class TimeChart {
  /** Lies over the plot and takes fingers and the wheel. */
  readonly over = document.createElement('div');
  private readonly canvas = document.createElement('canvas');
  private readonly ctx = this.canvas.getContext('2d')!;
  private readonly host: HTMLElement;
  private readonly ticks: TimeTicks;
  private readonly onRest: () => void;
  private colours: Palette;
  private content: ChartContent;
  private stretch: Stretch;
  private picked_ms: number | null = null;
  private width = 0;
  private height = 0;
  private strip = new Strip();
  private spare = new Strip();
  private drawing: Generator<void, void> | null = null;
  /** What is shown is not drawn from what there is now. */
  private stale = true;
  /** The strip is exact for the stretch that is shown. */
  private exact = false;
  private movedAt_ms = Number.NEGATIVE_INFINITY;
  private frame = 0;

  constructor(host: HTMLElement, { ticks, colours, content, stretch, onRest }: Options) {
    this.host = host;
    this.ticks = ticks;
    this.colours = colours;
    this.content = content;
    this.stretch = stretch;
    this.onRest = onRest;
    this.over.className = 'heat-chart-over';
    host.append(this.canvas, this.over);
    this.resize();
  }

  destroy(): void {
    cancelAnimationFrame(this.frame);
    this.canvas.remove();
    this.over.remove();
  }

  /** The instant under a place of the plot, px from its left edge. */
  instantAt(x: number): number {
    return this.stretch.from_ms + (x / this.across) * (this.stretch.to_ms - this.stretch.from_ms);
  }

  /** Moves to another stretch, with the next frame. */
  show(stretch: Stretch): void {
    this.stretch = stretch;
    this.exact = false;
    this.movedAt_ms = performance.now();
    this.wake();
  }

  /** Samples have come, the clock has moved on, or other lines are wanted. */
  refill(content: ChartContent): void {
    this.content = content;
    this.stale = true;
    this.wake();
  }

  pick(at_ms: number | null): void {
    this.picked_ms = at_ms;
    this.compose();
  }

  paint(colours: Palette): void {
    this.colours = colours;
    this.drawAll();
  }

  resize(): void {
    const { clientWidth: width, clientHeight: height } = this.host;
    if (width === 0 || height === 0 || (width === this.width && height === this.height)) return;
    this.width = width;
    this.height = height;
    const { style } = this.over;
    style.left = `${LEFT_PX}px`;
    style.top = `${TOP_PX}px`;
    style.width = `${this.across}px`;
    style.height = `${this.up}px`;
    this.drawAll();
  }

  /** Pixels that the plot is wide. */
  private get across(): number {
    return Math.max(50, this.width - LEFT_PX - RIGHT_PX);
  }

  /** Pixels that the plot is high. */
  private get up(): number {
    return Math.max(50, this.height - TOP_PX - BELOW_PX);
  }

  private x(at_ms: number): number {
    return LEFT_PX + ((at_ms - this.stretch.from_ms) / (this.stretch.to_ms - this.stretch.from_ms)) * this.across;
  }

  private wake(): void {
    if (this.frame === 0) this.frame = requestAnimationFrame((now) => this.tick(now));
  }

  private tick(now: number): void {
    this.frame = 0;
    const moving = now - this.movedAt_ms < REST_MS;
    if (!this.drawing && (moving ? this.stale || !this.fits() : this.stale || !this.exact)) this.begin(moving);
    if (moving || this.drawing) {
      this.step(STEPS_MS);
      this.compose();
    }
    if (moving || this.drawing || this.stale || !this.exact) this.wake();
    else this.onRest();
  }

  /** Whether the strip may be shown a while longer. */
  private fits(): boolean {
    const { grid } = this.strip;
    const { from_ms, to_ms } = this.stretch;
    const zoom = (to_ms - from_ms) / this.across / grid.column_ms;
    const least_ms = LEAST_MARGIN * (to_ms - from_ms);
    return (
      zoom < ZOOM &&
      zoom > 1 / ZOOM &&
      from_ms - grid.from_ms > least_ms &&
      grid.from_ms + grid.columns * grid.column_ms - to_ms > least_ms
    );
  }

  /** @param margin how far beyond what is seen the strip reaches on each side, as a share of the width */
  private begin(moving: boolean, margin = MARGIN): void {
    const seen = this.stretch;
    const width_ms = seen.to_ms - seen.from_ms;
    const { across, strip } = this;
    this.stale = false;
    this.exact = !moving;
    this.drawing = this.spare.draw({
      content: this.content,
      grid: {
        from_ms: seen.from_ms - margin * width_ms,
        column_ms: width_ms / across,
        columns: Math.ceil(across * (1 + 2 * margin)),
      },
      seen,
      height: this.up,
      ratio: moving ? 1 : devicePixelRatio,
      colours: this.colours,
      moving,
      // What is seen would jump under the fingers: it may only become wider before they rest.
      range: (own) => (moving && strip.drawn ? joined(own, strip.range) : own),
    });
  }

  private step(for_ms: number): void {
    const until = performance.now() + for_ms;
    while (this.drawing) {
      if (this.drawing.next().done) {
        this.drawing = null;
        [this.strip, this.spare] = [this.spare, this.strip];
      } else if (performance.now() >= until) return;
    }
  }

  /** At once, as it stands; the very first time as a moving chart is drawn, and a moment later all of it. */
  private drawAll(): void {
    if (this.width === 0) return;
    if (this.strip.drawn) this.begin(false);
    else {
      this.begin(true, 0);
      this.movedAt_ms = performance.now();
    }
    this.step(Number.POSITIVE_INFINITY);
    this.compose();
    this.wake();
  }

  private compose(): void {
    const { canvas, ctx, width, height, across, up, strip } = this;
    const ratio = devicePixelRatio;
    if (canvas.width !== Math.round(width * ratio) || canvas.height !== Math.round(height * ratio)) {
      canvas.width = Math.round(width * ratio);
      canvas.height = Math.round(height * ratio);
      canvas.style.width = `${width}px`;
      canvas.style.height = `${height}px`;
    }
    ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
    ctx.clearRect(0, 0, width, height);
    ctx.font = FIGURES;
    this.drawTimes();
    this.drawValues();
    ctx.save();
    ctx.beginPath();
    ctx.rect(LEFT_PX, TOP_PX, across, up);
    ctx.clip();
    const { grid } = strip;
    const left = this.x(grid.from_ms);
    ctx.imageSmoothingEnabled = !strip.moving;
    ctx.drawImage(strip.canvas, left, TOP_PX, this.x(grid.from_ms + grid.columns * grid.column_ms) - left, up);
    ctx.restore();
    for (const mark of this.content.marks) this.drawMark(mark);
    this.drawUpright(this.content.now_ms, [2, 3]);
    if (this.picked_ms !== null) this.drawUpright(this.picked_ms, []);
    this.drawNames();
  }

  private drawTimes(): void {
    const { ctx, ticks, colours } = this;
    const { from_ms, to_ms } = this.stretch;
    const below = TOP_PX + this.up;
    ctx.strokeStyle = colours.grid;
    ctx.fillStyle = colours.label;
    ctx.lineWidth = 1;
    ctx.textAlign = 'center';
    ctx.textBaseline = 'top';
    ctx.beginPath();
    for (const at of ticks.at(from_ms, to_ms, ((to_ms - from_ms) / this.across) * TICK_PX)) {
      const x = this.x(at);
      ctx.moveTo(x, TOP_PX);
      ctx.lineTo(x, below + 6);
      ctx.fillText(ticks.words(at), x, below + 10);
    }
    ctx.stroke();
  }

  private drawValues(): void {
    const { ctx, strip, colours } = this;
    ctx.strokeStyle = colours.grid;
    ctx.fillStyle = colours.label;
    ctx.textAlign = 'right';
    ctx.textBaseline = 'middle';
    ctx.beginPath();
    for (const { at, words } of valueTicks(strip.range, this.up / VALUE_APART_PX)) {
      const y = TOP_PX + strip.y(at);
      ctx.moveTo(LEFT_PX - 6, y);
      ctx.lineTo(LEFT_PX + this.across, y);
      ctx.fillText(words, LEFT_PX - 10, y);
    }
    ctx.stroke();
  }

  private drawUpright(at_ms: number, dash: number[]): void {
    const { ctx } = this;
    const x = this.x(at_ms);
    if (x < LEFT_PX || x > LEFT_PX + this.across) return;
    ctx.strokeStyle = this.colours.index;
    ctx.lineWidth = 2;
    ctx.setLineDash(dash);
    ctx.beginPath();
    ctx.moveTo(x, TOP_PX);
    ctx.lineTo(x, TOP_PX + this.up);
    ctx.stroke();
    ctx.setLineDash([]);
  }

  /** Two posts for a hold point, an open diamond for a finding, over the plot. */
  private drawMark({ at_ms, kind }: ChartMark): void {
    const { ctx } = this;
    const x = this.x(at_ms);
    if (x < LEFT_PX - 4 || x > LEFT_PX + this.across + 4) return;
    const y = TOP_PX - 8;
    ctx.strokeStyle = kind === 'finding' ? this.colours.outside : this.colours.ink;
    ctx.lineWidth = 2;
    ctx.beginPath();
    if (kind === 'hold') {
      for (const side of [-4, 4]) {
        ctx.moveTo(x + side, y - 6);
        ctx.lineTo(x + side, y + 6);
      }
    } else {
      ctx.moveTo(x, y - 5);
      ctx.lineTo(x + 5, y);
      ctx.lineTo(x, y + 5);
      ctx.lineTo(x - 5, y);
      ctx.closePath();
    }
    ctx.stroke();
  }

  /** The names of the lines, at their right ends. */
  private drawNames(): void {
    const { ctx, strip, up } = this;
    const shown = strip.lines.flatMap(({ name }, i) => {
      const value = strip.lastValue(i, this.stretch);
      return value === null ? [] : [{ name, i, y: Math.max(4, Math.min(up, strip.y(value))) }];
    });
    const placed = spreadLabels(
      shown.map(({ y }) => y),
      15,
      4,
      up,
    );
    ctx.textAlign = 'left';
    ctx.textBaseline = 'middle';
    shown.forEach(({ name, i }, n) => {
      ctx.fillStyle = penOf(this.colours, i);
      ctx.fillText(name, LEFT_PX + this.across + 6, TOP_PX + placed[n]!);
    });
  }
}
