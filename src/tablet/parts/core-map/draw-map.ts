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

/** The cores as they are drawn; those that want a hand are few, and never too small to be seen: drawn one by one, last. */
export interface Shapes {
  readonly wanting: readonly MapCore[];
  readonly cores: readonly MapCore[];
  readonly side_mm: number;
}

/** A flat faces +x, so that corners lie at 30°, 90° and on. */
const CORNERS = [30, 90, 150, 210, 270, 330].map((angle): [number, number] => [
  Math.cos((angle * Math.PI) / 180),
  Math.sin((angle * Math.PI) / 180),
]);

function hexagon(ctx: Plane, x: number, y: number, corner: number): void {
  for (const [i, [dx, dy]] of CORNERS.entries()) {
    if (i === 0) ctx.moveTo(x + corner * dx, y + corner * dy);
    else ctx.lineTo(x + corner * dx, y + corner * dy);
  }
  ctx.closePath();
}

export const shapesOf = (cores: readonly MapCore[], across_mm: number): Shapes => ({
  wanting: cores.filter((c) => !c.faint && (c.mark === 'outside' || c.mark === 'not-proven')),
  cores,
  side_mm: across_mm / Math.sqrt(3),
});

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
  drawCores(ctx, drawing);
  drawRound(ctx, frame, view, colours);
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

/** What both a screen and a picture kept beside it can be drawn on. */
type Plane = CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D;

/** Up to this corner, px of the screen, all cores of one mark are printed from one picture; above it few are in sight. */
const PRINTED_PX = 30;

/** Those in sight. Thousands of outlines cost a frame more than thousands of prints of a few pictures. */
function drawCores(ctx: CanvasRenderingContext2D, drawing: Drawing): void {
  const { shapes, view, frame, colours, sharpness } = drawing;
  const corner = shapes.side_mm * view.scale;
  const printed = corner * sharpness <= PRINTED_PX;
  const size = 2 * Math.ceil((corner + 2) * sharpness);
  const pictures = picturesOf(colours, `${corner} ${sharpness}`);
  const half = size / 2 / sharpness;
  for (const { x_mm, y_mm, mark, faint } of shapes.cores) {
    const x = view.x + x_mm * view.scale;
    const y = view.y - y_mm * view.scale;
    if (x < -half || y < -half || x > frame.width + half || y > frame.height + half) continue;
    if (!printed) {
      ctx.translate(x, y);
      drawCore(ctx, mark, faint, corner, colours);
      ctx.translate(-x, -y);
      continue;
    }
    const key = faint ? 'faint' : mark;
    let picture = pictures.get(key);
    if (!picture) {
      picture = pictureOf(mark, faint, corner, size, drawing);
      pictures.set(key, picture);
    }
    ctx.drawImage(picture, x - half, y - half, 2 * half, 2 * half);
  }
  cutToRound(ctx, frame, view);
}

/** A pan keeps its pictures from frame to frame; another size, or another theme, makes them anew. */
const kept = new WeakMap<Colours, { readonly of: string; readonly pictures: Map<string, OffscreenCanvas> }>();

function picturesOf(colours: Colours, of: string): Map<string, OffscreenCanvas> {
  const found = kept.get(colours);
  if (found?.of === of) return found.pictures;
  const pictures = new Map<string, OffscreenCanvas>();
  kept.set(colours, { of, pictures });
  return pictures;
}

function pictureOf(mark: CoreMark, faint: boolean, corner: number, size: number, drawing: Drawing): OffscreenCanvas {
  const picture = new OffscreenCanvas(size, size);
  const ctx = picture.getContext('2d')!;
  ctx.setTransform(drawing.sharpness, 0, 0, drawing.sharpness, size / 2, size / 2);
  drawCore(ctx, mark, faint, corner, drawing.colours);
  return picture;
}

/** One core about the origin; the mark of one that wants a hand comes later. */
function drawCore(ctx: Plane, mark: CoreMark, faint: boolean, corner: number, colours: Colours): void {
  const across = corner * Math.sqrt(3);
  ctx.beginPath();
  hexagon(ctx, 0, 0, corner);
  ctx.globalAlpha = faint ? 0.45 : 1;
  const fill = faint ? undefined : FILLS[mark];
  if (fill) {
    ctx.fillStyle = colours[fill];
    ctx.fill();
  }
  const asked = !faint && (mark === 'missing' || mark === 'begun');
  ctx.strokeStyle = asked ? colours['line-strong'] : colours.line;
  ctx.lineWidth = asked ? 1.25 : 0.75;
  ctx.stroke();
  ctx.globalAlpha = 1;
  if (faint) return;
  const begun = mark === 'begun';
  if (mark === 'within' || begun) {
    ctx.beginPath();
    ctx.arc(begun ? -0.2 * across : 0, 0, 0.09 * across, 0, 2 * Math.PI);
    ctx.fillStyle = colours.ink;
    ctx.fill();
  }
  if (mark === 'missing' || begun) {
    ctx.beginPath();
    ctx.moveTo(begun ? 0 : -0.16 * across, 0);
    ctx.lineTo((begun ? 0.26 : 0.16) * across, 0);
    ctx.strokeStyle = colours.ink;
    ctx.lineWidth = Math.max(1.25, corner / 14);
    ctx.stroke();
  }
}

const FILLS: { readonly [M in CoreMark]?: keyof Colours } = { within: 'well', begun: 'raise', missing: 'raise' };

/** The cores at the edge are cut to the round, where the round is in sight. */
function cutToRound(ctx: CanvasRenderingContext2D, { width, height, radius_mm }: MapFrame, view: MapView): void {
  const radius = radius_mm * view.scale;
  const corners = [0, width].flatMap((x) => [0, height].map((y) => Math.hypot(x - view.x, y - view.y)));
  if (Math.max(...corners) <= radius) return;
  ctx.globalCompositeOperation = 'destination-in';
  // Only that it is opaque counts.
  ctx.fillStyle = '#000';
  ctx.beginPath();
  ctx.arc(view.x, view.y, radius, 0, 2 * Math.PI);
  ctx.fill();
  ctx.globalCompositeOperation = 'source-over';
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
