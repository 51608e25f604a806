import type { CoreMark, MapCore } from './core-mark.ts';
import { type MapFrame, type MapView, onCanvas } from './map-view.ts';

/** The colours of the theme that holds now. */
export type Colours = { readonly [C in (typeof NAMES)[number]]: string };
const NAMES = [
  'sheet',
  'well',
  'raise',
  'ink',
  'ink-2',
  'ink-3',
  'line',
  'line-strong',
  'index',
  'index-wash',
  'unproven',
  'unproven-wash',
  'outside',
  'on-outside',
] as const;

export function coloursOf(element: Element): Colours {
  const style = getComputedStyle(element);
  return Object.fromEntries(NAMES.map((name) => [name, style.getPropertyValue(`--${name}`).trim()])) as Colours;
}

/** The shapes of all cores, in mm, made once for a state of the map and drawn in every frame. */
export interface Shapes {
  readonly outlines: { readonly [M in CoreMark]?: Path2D };
  readonly faint: Path2D;
  readonly dots: Path2D;
  readonly dashes: Path2D;
  /** Few, and never too small to be seen: drawn one by one. */
  readonly wanting: readonly MapCore[];
  readonly cores: readonly MapCore[];
  readonly side_mm: number;
}

/** A flat faces +x, so that corners lie at 30°, 90° and on. */
const CORNERS = [30, 90, 150, 210, 270, 330].map((angle): [number, number] => [
  Math.cos((angle * Math.PI) / 180),
  Math.sin((angle * Math.PI) / 180),
]);

function hexagon(path: Path2D | CanvasRenderingContext2D, x: number, y: number, corner: number): void {
  for (const [i, [dx, dy]] of CORNERS.entries()) {
    if (i === 0) path.moveTo(x + corner * dx, y + corner * dy);
    else path.lineTo(x + corner * dx, y + corner * dy);
  }
  path.closePath();
}

export function shapesOf(cores: readonly MapCore[], across_mm: number): Shapes {
  const side_mm = across_mm / Math.sqrt(3);
  const outlines: { [M in CoreMark]?: Path2D } = {};
  const [faint, dots, dashes] = [new Path2D(), new Path2D(), new Path2D()];
  for (const { x_mm, y_mm, mark, faint: left } of cores) {
    if (left) {
      hexagon(faint, x_mm, y_mm, side_mm);
      continue;
    }
    outlines[mark] ??= new Path2D();
    hexagon(outlines[mark], x_mm, y_mm, side_mm);
    const dotted = mark === 'within' || mark === 'begun';
    const dot_x = mark === 'begun' ? x_mm - 0.2 * across_mm : x_mm;
    if (dotted) {
      dots.moveTo(dot_x + 0.09 * across_mm, y_mm);
      dots.arc(dot_x, y_mm, 0.09 * across_mm, 0, 2 * Math.PI);
    }
    if (mark === 'missing' || mark === 'begun') {
      dashes.moveTo(x_mm - (mark === 'begun' ? 0 : 0.16) * across_mm, y_mm);
      dashes.lineTo(x_mm + (mark === 'begun' ? 0.26 : 0.16) * across_mm, y_mm);
    }
  }
  const wanting = cores.filter((c) => !c.faint && (c.mark === 'outside' || c.mark === 'not-proven'));
  return { outlines, faint, dots, dashes, wanting, cores, side_mm };
}

export interface Drawing {
  readonly frame: MapFrame;
  readonly view: MapView;
  readonly shapes: Shapes;
  readonly colours: Colours;
  /** What is worked at: a core, or the two beside a gap; the first one is the one chosen. */
  readonly chosen: readonly string[];
  /** px of the screen a px of the page. */
  readonly sharpness: number;
}

/** Below this, px from core to core, addresses would run into one another. */
const READABLE_PX = 62;
/** Half of the least mark that is seen from an arm's length, px. */
const LEAST_MARK_PX = 8;

export function drawMap(ctx: CanvasRenderingContext2D, drawing: Drawing): void {
  const { frame, view, colours, sharpness } = drawing;
  ctx.setTransform(sharpness, 0, 0, sharpness, 0, 0);
  ctx.clearRect(0, 0, frame.width, frame.height);
  drawRound(ctx, frame, view, colours);
  // From here in mm, +y up.
  const scale = view.scale * sharpness;
  ctx.setTransform(scale, 0, 0, -scale, view.x * sharpness, view.y * sharpness);
  drawCores(ctx, drawing);
  ctx.setTransform(sharpness, 0, 0, sharpness, 0, 0);
  for (const core of drawing.shapes.wanting) drawWanting(ctx, drawing, core);
  drawChosen(ctx, drawing);
  if (frame.pitch_mm * view.scale >= READABLE_PX) drawAddresses(ctx, drawing);
}

/** The mould's edge with a tick at every 10°, and the angles that place it. */
function drawRound(ctx: CanvasRenderingContext2D, frame: MapFrame, view: MapView, colours: Colours): void {
  const radius = frame.radius_mm * view.scale;
  ctx.strokeStyle = colours.ink;
  ctx.lineWidth = 1.25;
  ctx.beginPath();
  ctx.arc(view.x, view.y, radius, 0, 2 * Math.PI);
  ctx.stroke();
  ctx.strokeStyle = colours['line-strong'];
  ctx.beginPath();
  for (let i = 0; i < 36; i++) {
    const [cos, sin] = [Math.cos((i * Math.PI) / 18), Math.sin((i * Math.PI) / 18)];
    const long = i % 9 === 0 ? 9 : 5;
    ctx.moveTo(view.x + (radius + 2) * cos, view.y - (radius + 2) * sin);
    ctx.lineTo(view.x + (radius + 2 + long) * cos, view.y - (radius + 2 + long) * sin);
  }
  ctx.stroke();
  ctx.fillStyle = colours['ink-2'];
  ctx.font = figures(13);
  ctx.textAlign = 'left';
  ctx.textBaseline = 'bottom';
  ctx.fillText('0°', Math.min(view.x + radius + 4, Math.max(view.x, frame.width - 20)), view.y - 4);
  ctx.fillText('90°', view.x + 5, view.y - radius - 2);
}

const figures = (px: number, weight = 500): string =>
  `${weight} ${px}px "Atkinson Hyperlegible Mono Variable", ui-monospace, monospace`;

function drawCores(ctx: CanvasRenderingContext2D, { shapes, colours, view, frame }: Drawing): void {
  const px = 1 / view.scale;
  ctx.save();
  // The cores at the edge are cut to the round.
  ctx.beginPath();
  ctx.arc(0, 0, frame.radius_mm, 0, 2 * Math.PI);
  ctx.clip();
  const fills: { readonly [M in CoreMark]?: string } = {
    within: colours.well,
    begun: colours.raise,
    missing: colours.raise,
  };
  ctx.lineWidth = px;
  for (const [mark, path] of Object.entries(shapes.outlines) as [CoreMark, Path2D][]) {
    const fill = fills[mark];
    if (fill) {
      ctx.fillStyle = fill;
      ctx.fill(path);
    }
    const asked = mark === 'missing' || mark === 'begun';
    ctx.strokeStyle = asked ? colours['line-strong'] : colours.line;
    ctx.lineWidth = (asked ? 1.25 : 0.75) * px;
    ctx.stroke(path);
  }
  ctx.globalAlpha = 0.45;
  ctx.strokeStyle = colours.line;
  ctx.lineWidth = 0.75 * px;
  ctx.stroke(shapes.faint);
  ctx.globalAlpha = 1;
  ctx.fillStyle = colours.ink;
  ctx.fill(shapes.dots);
  ctx.strokeStyle = colours.ink;
  ctx.lineWidth = Math.max(1.25 * px, shapes.side_mm / 14);
  ctx.stroke(shapes.dashes);
  ctx.restore();
}

/** Outside is reversed with an open diamond, not proven washed with a half one, both never too small. */
function drawWanting(ctx: CanvasRenderingContext2D, { view, shapes, colours, frame }: Drawing, core: MapCore): void {
  const at = onCanvas(view, core.x_mm, core.y_mm);
  const corner = Math.max(shapes.side_mm * view.scale, LEAST_MARK_PX);
  if (at.x < -corner || at.y < -corner || at.x > frame.width + corner || at.y > frame.height + corner) return;
  const outside = core.mark === 'outside';
  ctx.beginPath();
  hexagon(ctx, at.x, at.y, corner);
  ctx.fillStyle = outside ? colours.outside : colours['unproven-wash'];
  ctx.fill();
  ctx.lineWidth = 1.5;
  ctx.strokeStyle = outside ? colours.outside : colours.unproven;
  ctx.stroke();
  const half = Math.min(0.5 * corner, 16);
  ctx.beginPath();
  ctx.moveTo(at.x - half, at.y);
  ctx.lineTo(at.x, at.y - half);
  ctx.lineTo(at.x + half, at.y);
  ctx.lineTo(at.x, at.y + half);
  ctx.closePath();
  ctx.lineWidth = Math.max(1.5, half / 5);
  ctx.strokeStyle = outside ? colours['on-outside'] : colours.unproven;
  ctx.stroke();
  if (outside) return;
  ctx.beginPath();
  ctx.moveTo(at.x - half, at.y);
  ctx.lineTo(at.x, at.y - half);
  ctx.lineTo(at.x, at.y + half);
  ctx.closePath();
  ctx.fillStyle = colours.unproven;
  ctx.fill();
}

function drawChosen(ctx: CanvasRenderingContext2D, { view, shapes, colours, chosen }: Drawing): void {
  for (const [i, address] of chosen.entries()) {
    const core = shapes.cores.find((c) => c.address === address);
    if (!core) continue;
    const at = onCanvas(view, core.x_mm, core.y_mm);
    ctx.beginPath();
    hexagon(ctx, at.x, at.y, Math.max(shapes.side_mm * view.scale, LEAST_MARK_PX) + 1.5);
    ctx.strokeStyle = colours.index;
    ctx.lineWidth = i === 0 ? 3.5 : 2;
    ctx.stroke();
  }
}

/** Those in sight; they stand under the mark. */
function drawAddresses(ctx: CanvasRenderingContext2D, { view, shapes, colours, frame }: Drawing): void {
  const size = Math.min(20, Math.max(13, 0.16 * frame.pitch_mm * view.scale));
  ctx.font = figures(size, 550);
  ctx.textAlign = 'center';
  ctx.textBaseline = 'middle';
  for (const core of shapes.cores) {
    const at = onCanvas(view, core.x_mm, core.y_mm);
    const room = shapes.side_mm * view.scale;
    if (at.x < -room || at.y < -room || at.x > frame.width + room || at.y > frame.height + room) continue;
    const reversed = core.mark === 'outside' && !core.faint;
    ctx.fillStyle = reversed ? colours['on-outside'] : core.faint ? colours['ink-3'] : colours['ink-2'];
    ctx.fillText(core.address, at.x, at.y + 0.62 * room);
  }
}
