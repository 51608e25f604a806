import type { Stretch } from './chart-content.ts';
import type { TimeChart } from './time-chart.ts';

/** What fingers, wheel and keys do to a chart. */
export interface ChartHand {
  readonly stretch: () => Stretch;
  readonly move: (to: Stretch) => void;
  readonly pick: (at_ms: number) => void;
}

/** A touch that moves less than this, px, is a tap. */
const TAP_PX = 8;

/** One finger pans, two zoom, a tap picks; the wheel zooms where the pointer is. */
export function listen(chart: TimeChart, hand: ChartHand): () => void {
  const { over } = chart;
  const fingers = new Map<number, { x: number; downAt: number }>();
  const xOf = (event: { clientX: number }) => event.clientX - over.getBoundingClientRect().left;
  const shareOf = (x: number) => x / over.clientWidth;

  const down = (event: PointerEvent) => {
    over.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, { x: xOf(event), downAt: xOf(event) });
  };
  const move = (event: PointerEvent) => {
    const finger = fingers.get(event.pointerId);
    if (!finger) return;
    const before = finger.x;
    const x = xOf(event);
    const other = [...fingers].find(([id]) => id !== event.pointerId)?.[1];
    fingers.set(event.pointerId, { ...finger, x });
    const stretch = hand.stretch();
    if (other) {
      const apart = Math.abs(x - other.x);
      const was = Math.abs(before - other.x);
      if (apart > 4 && was > 4) hand.move(zoomed(stretch, was / apart, shareOf((x + other.x) / 2)));
    } else if (Math.abs(x - finger.downAt) >= TAP_PX || Math.abs(before - finger.downAt) >= TAP_PX)
      hand.move(panned(stretch, shareOf(before - x)));
  };
  const up = (event: PointerEvent) => {
    const finger = fingers.get(event.pointerId);
    fingers.delete(event.pointerId);
    if (finger && fingers.size === 0 && Math.abs(finger.x - finger.downAt) < TAP_PX)
      hand.pick(chart.instantAt(finger.x));
  };
  const cancel = (event: PointerEvent) => fingers.delete(event.pointerId);
  const wheel = (event: WheelEvent) => {
    event.preventDefault();
    const sideways = Math.abs(event.deltaX) > Math.abs(event.deltaY) || event.shiftKey;
    const stretch = hand.stretch();
    if (sideways) hand.move(panned(stretch, (event.deltaX || event.deltaY) / over.clientWidth));
    else hand.move(zoomed(stretch, Math.exp(event.deltaY / 400), shareOf(xOf(event))));
  };
  over.style.touchAction = 'pan-y';
  over.addEventListener('pointerdown', down);
  over.addEventListener('pointermove', move);
  over.addEventListener('pointerup', up);
  over.addEventListener('pointercancel', cancel);
  over.addEventListener('wheel', wheel, { passive: false });
  return () => {
    over.removeEventListener('pointerdown', down);
    over.removeEventListener('pointermove', move);
    over.removeEventListener('pointerup', up);
    over.removeEventListener('pointercancel', cancel);
    over.removeEventListener('wheel', wheel);
  };
}

/** Moved on by a share of its own width. */
export function panned({ from_ms, to_ms }: Stretch, share: number): Stretch {
  const by = share * (to_ms - from_ms);
  return { from_ms: from_ms + by, to_ms: to_ms + by };
}

/** Wider or narrower by a factor; what lies at a share of the width stays where it is. */
export function zoomed({ from_ms, to_ms }: Stretch, factor: number, at = 0.5): Stretch {
  const fixed = from_ms + at * (to_ms - from_ms);
  const width = (to_ms - from_ms) * factor;
  return { from_ms: fixed - at * width, to_ms: fixed + (1 - at) * width };
}

const NARROWEST_MS = 10 * 60_000;

/** Held to what there is: never narrower than ten minutes, never beyond the ends by more than a tenth. */
export function held({ from_ms, to_ms }: Stretch, whole: Stretch): Stretch {
  const all = whole.to_ms - whole.from_ms;
  const width = Math.min(Math.max(to_ms - from_ms, NARROWEST_MS), all);
  const middle = (from_ms + to_ms) / 2;
  const slack = Math.min(width, all) / 10;
  const from = Math.min(Math.max(middle - width / 2, whole.from_ms - slack), whole.to_ms + slack - width);
  return { from_ms: from, to_ms: from + width };
}
