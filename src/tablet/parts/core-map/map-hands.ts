import { type MapFrame, type MapView, moved, zoomed } from './map-view.ts';

/** What the hands on a map act on. */
export interface Handled {
  readonly frame: () => MapFrame;
  readonly view: () => MapView;
  readonly show: (view: MapView) => void;
  readonly tap: (x: number, y: number) => void;
}

/** A finger that moved less than this, px, has tapped. */
const STILL_PX = 10;
/** How much a notch of the wheel enlarges. */
const NOTCH = 1.0015;

/**
 * One finger moves the map, two turn it larger or smaller, a still one taps; the wheel enlarges under the pointer.
 * @returns what takes the listeners away again.
 */
export function handsOn(canvas: HTMLElement, { frame, view, show, tap }: Handled): () => void {
  const fingers = new Map<number, { x: number; y: number }>();
  let travelled = 0;
  const at = (event: PointerEvent | WheelEvent) => {
    const box = canvas.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const down = (event: PointerEvent) => {
    if (event.button > 0) return;
    if (fingers.size === 0) travelled = 0;
    fingers.set(event.pointerId, at(event));
    // A second finger is never a tap.
    if (fingers.size > 1) travelled = STILL_PX;
    canvas.setPointerCapture(event.pointerId);
  };
  const move = (event: PointerEvent) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const now = at(event);
    const [dx, dy] = [now.x - before.x, now.y - before.y];
    const other = [...fingers].find(([id]) => id !== event.pointerId)?.[1];
    fingers.set(event.pointerId, now);
    if (other) {
      const spread = Math.hypot(now.x - other.x, now.y - other.y) / Math.hypot(before.x - other.x, before.y - other.y);
      const middle = { x: (now.x + other.x) / 2, y: (now.y + other.y) / 2 };
      const grown = Number.isFinite(spread) ? zoomed(frame(), view(), spread, middle) : view();
      return show(moved(frame(), grown, dx / 2, dy / 2));
    }
    travelled += Math.hypot(dx, dy);
    if (travelled >= STILL_PX) show(moved(frame(), view(), dx, dy));
  };
  const up = (event: PointerEvent) => {
    if (!fingers.delete(event.pointerId) || fingers.size > 0) return;
    if (event.type === 'pointerup' && travelled < STILL_PX) tap(at(event).x, at(event).y);
  };
  const wheel = (event: WheelEvent) => {
    event.preventDefault();
    const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 32 : 1;
    show(zoomed(frame(), view(), NOTCH ** (-event.deltaY * lines), at(event)));
  };
  canvas.addEventListener('pointerdown', down);
  canvas.addEventListener('pointermove', move);
  canvas.addEventListener('pointerup', up);
  canvas.addEventListener('pointercancel', up);
  canvas.addEventListener('wheel', wheel, { passive: false });
  return () => {
    canvas.removeEventListener('pointerdown', down);
    canvas.removeEventListener('pointermove', move);
    canvas.removeEventListener('pointerup', up);
    canvas.removeEventListener('pointercancel', up);
    canvas.removeEventListener('wheel', wheel);
  };
}
