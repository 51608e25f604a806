/** What of the mould is seen, and how large. Pure figures, px and mm. */
export interface MapView {
  /** px a mm. */
  readonly scale: number;
  /** Where the axis of the mould lies on the canvas, px. */
  readonly x: number;
  readonly y: number;
}

/** The room for the map, px, and what is to be seen in it, mm. */
export interface MapFrame {
  readonly width: number;
  readonly height: number;
  readonly radius_mm: number;
  readonly pitch_mm: number;
}

/** The graduation around the mould needs room. */
const ROUND = 1.09;
/** The largest that a core is drawn, px from one to the next. */
const LARGEST_PX = 220;

const fitScale = ({ width, height, radius_mm }: MapFrame): number => Math.min(width, height) / (2 * ROUND * radius_mm);

/** The whole mould in the middle. */
export const wholeMap = (frame: MapFrame): MapView => ({
  scale: fitScale(frame),
  x: frame.width / 2,
  y: frame.height / 2,
});

export const isWhole = (frame: MapFrame, { scale }: MapView): boolean => scale <= fitScale(frame) * 1.001;

/** Between the whole mould and a few cores; and never so far aside that the mould is out of sight. */
function held(frame: MapFrame, view: MapView): MapView {
  const least = fitScale(frame);
  const scale = Math.min(Math.max(view.scale, least), Math.max(least, LARGEST_PX / frame.pitch_mm));
  const reach = frame.radius_mm * (scale - least);
  const near = (at: number, middle: number) => Math.min(Math.max(at, middle - reach), middle + reach);
  return { scale, x: near(view.x, frame.width / 2), y: near(view.y, frame.height / 2) };
}

export const moved = (frame: MapFrame, view: MapView, dx: number, dy: number): MapView =>
  held(frame, { ...view, x: view.x + dx, y: view.y + dy });

/** Larger or smaller, with the point under the finger staying there. */
export function zoomed(frame: MapFrame, view: MapView, factor: number, at: { x: number; y: number }): MapView {
  const { scale } = held(frame, { ...view, scale: view.scale * factor });
  const by = scale / view.scale;
  return held(frame, { scale, x: at.x + (view.x - at.x) * by, y: at.y + (view.y - at.y) * by });
}

/** The same middle in a room of another size. */
export function resized(before: MapFrame, after: MapFrame, view: MapView): MapView {
  if (isWhole(before, view)) return wholeMap(after);
  return held(after, {
    scale: view.scale,
    x: view.x + (after.width - before.width) / 2,
    y: view.y + (after.height - before.height) / 2,
  });
}

/** A place of the mould on the canvas, px. */
export const onCanvas = (view: MapView, x_mm: number, y_mm: number): { x: number; y: number } => ({
  x: view.x + view.scale * x_mm,
  y: view.y - view.scale * y_mm,
});

/** The place of the mould under a point of the canvas, mm. */
export const inMould = (view: MapView, x: number, y: number): { x_mm: number; y_mm: number } => ({
  x_mm: (x - view.x) / view.scale,
  y_mm: (view.y - y) / view.scale,
});

interface Placed {
  readonly x_mm: number;
  readonly y_mm: number;
}

/** The core nearest to a point of the canvas, as long as it lies on it or beside it. */
export function coreUnder<C extends Placed>(
  cores: readonly C[],
  { pitch_mm }: MapFrame,
  view: MapView,
  x: number,
  y: number,
): C | null {
  const at = inMould(view, x, y);
  let nearest: C | null = null;
  let least = pitch_mm;
  for (const core of cores) {
    const distance = Math.hypot(core.x_mm - at.x_mm, core.y_mm - at.y_mm);
    if (distance < least) [nearest, least] = [core, distance];
  }
  return nearest;
}

/** The core to which an arrow key leads: the nearest that lies that way more than aside. */
export function coreBeside<C extends Placed>(cores: readonly C[], from: C, dx: number, dy: number): C | null {
  let best: C | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const core of cores) {
    const along = (core.x_mm - from.x_mm) * dx + (core.y_mm - from.y_mm) * dy;
    const aside = Math.abs((core.x_mm - from.x_mm) * dy) + Math.abs((core.y_mm - from.y_mm) * dx);
    if (along <= 1e-6 || aside > along) continue;
    const distance = along + aside;
    if (distance < least) [best, least] = [core, distance];
  }
  return best;
}

/** Brings a place into sight where it is out of it. */
export function showing(frame: MapFrame, view: MapView, x_mm: number, y_mm: number): MapView {
  const margin = Math.min(frame.width, frame.height) / 6;
  const at = onCanvas(view, x_mm, y_mm);
  const inside = (v: number, size: number) => Math.min(Math.max(v, margin), size - margin);
  return moved(frame, view, inside(at.x, frame.width) - at.x, inside(at.y, frame.height) - at.y);
}
