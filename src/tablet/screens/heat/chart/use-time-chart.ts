import { useSignal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import type { ChartContent, Stretch } from './chart-content.ts';
import { held, listen, panned, zoomed } from './gestures.ts';
import { onPaletteChange, palette } from './palette.ts';
import { TimeChart } from './time-chart.ts';
import { TimeTicks } from './time-ticks.ts';

/** How far a press of a button or a key goes. */
const STEP = 0.25;
const FACTOR = 1.6;
const PICK_PX = 4;

export interface ChartWanted {
  readonly timeZone: string;
  readonly dayOne: string;
  readonly content: ChartContent;
  /** All that there is. */
  readonly whole: Stretch;
  /** The heat that runs, or the last one. */
  readonly heat: Stretch;
  /** Where another chart of the same stood before this one; it goes on there. */
  readonly place: RefObject<Stretch | null>;
  /** Told when it stands still, with all of its content drawn. */
  readonly onRest: () => void;
}

/** What moves a chart. */
export interface ChartHands {
  readonly host: RefObject<HTMLDivElement | null>;
  /** What the chart shows; it settles a moment after the last movement. */
  readonly shown: Stretch;
  readonly picked_ms: number | null;
  readonly earlier: () => void;
  readonly later: () => void;
  readonly closer: () => void;
  readonly wider: () => void;
  readonly all: () => void;
  readonly thisHeat: () => void;
  readonly pick: (at_ms: number) => void;
  readonly key: (event: KeyboardEvent) => void;
  /** More has come to be drawn of the same content. */
  readonly refill: () => void;
}

/** A chart in the place that `host` names, and what hands do to it. */
export function useTimeChart(wanted: ChartWanted): ChartHands {
  const host = useRef<HTMLDivElement>(null);
  const chart = useRef<TimeChart | null>(null);
  const latest = useRef(wanted);
  latest.current = wanted;
  const { place } = wanted;
  place.current ??= wanted.whole;
  const shown = useSignal<Stretch>(place.current);
  const picked = useSignal<number | null>(null);
  const at = () => place.current!;
  const move = (to: Stretch) => {
    place.current = held(to, latest.current.whole);
    chart.current?.show(at());
  };
  const pick = (at_ms: number) => {
    picked.value = Math.min(Math.max(at_ms, at().from_ms), at().to_ms);
    chart.current?.pick(picked.value);
  };
  const drawn = useRef(wanted.content);
  const refill = () => {
    drawn.current = latest.current.content;
    chart.current?.refill(drawn.current);
  };

  useLayoutEffect(() => {
    const element = host.current!;
    const made = new TimeChart(element, {
      ticks: new TimeTicks(wanted.timeZone, wanted.dayOne),
      colours: palette(element),
      content: wanted.content,
      stretch: at(),
      onRest: () => {
        shown.value = at();
        latest.current.onRest();
      },
    });
    chart.current = made;
    const parts = [listen(made, { stretch: at, move, pick }), onPaletteChange(() => made.paint(palette(element)))];
    const sized = new ResizeObserver(() => made.resize());
    sized.observe(element);
    return () => {
      for (const end of parts) end();
      sized.disconnect();
      made.destroy();
      chart.current = null;
    };
  }, []);
  useEffect(() => {
    if (drawn.current !== wanted.content) refill();
  }, [wanted.content]);

  const ways = {
    earlier: () => move(panned(at(), -STEP)),
    later: () => move(panned(at(), STEP)),
    closer: () => move(zoomed(at(), 1 / FACTOR)),
    wider: () => move(zoomed(at(), FACTOR)),
    all: () => move(latest.current.whole),
    thisHeat: () => move(latest.current.heat),
  };
  const middle = () => (at().from_ms + at().to_ms) / 2;
  const step_ms = () => (PICK_PX * (at().to_ms - at().from_ms)) / (host.current?.clientWidth ?? 600);
  const keys: Readonly<Record<string, () => void>> = {
    ArrowLeft: ways.earlier,
    ArrowRight: ways.later,
    '+': ways.closer,
    '=': ways.closer,
    ArrowUp: ways.closer,
    '-': ways.wider,
    ArrowDown: ways.wider,
    Home: ways.all,
    End: ways.thisHeat,
    Enter: () => pick(middle()),
    ',': () => pick((picked.peek() ?? middle()) - step_ms()),
    '.': () => pick((picked.peek() ?? middle()) + step_ms()),
  };
  return {
    host,
    shown: shown.value,
    picked_ms: picked.value,
    ...ways,
    pick,
    refill,
    key: (event) => {
      const does = event.ctrlKey || event.metaKey || event.altKey ? undefined : keys[event.key];
      if (!does) return;
      event.preventDefault();
      does();
    },
  };
}
