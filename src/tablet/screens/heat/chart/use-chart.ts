import { type Signal, useSignal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useEffect, useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import type { ChartContent, Stretch } from './chart-content.ts';
import { held, listen, panned, zoomed } from './gestures.ts';
import { heatStretch, heatsBegun, linesOf, marksOf, wholeStretch } from './heat-content.ts';
import { planCorners } from './heat-outline.ts';
import { onPaletteChange, palette } from './palette.ts';
import { TimeChart } from './time-chart.ts';
import { TimeTicks } from './time-ticks.ts';
import { useSamples } from './use-samples.ts';

/** How far a press of a button or a key goes. */
const STEP = 0.25;
const FACTOR = 1.6;
const PICK_PX = 4;

export interface ChartWork {
  readonly host: RefObject<HTMLDivElement | null>;
  readonly content: ChartContent;
  /** What the chart shows; it settles a moment after the last movement. */
  readonly shown: Stretch;
  readonly picked_ms: number | null;
  /** Up when more samples have come: what is said of them is asked anew. */
  readonly came: Signal<number>;
  readonly lacking: readonly string[];
  /** More of what is shown is still being read. */
  readonly busy: boolean;
  readonly earlier: () => void;
  readonly later: () => void;
  readonly closer: () => void;
  readonly wider: () => void;
  readonly whole: () => void;
  readonly heat: () => void;
  readonly pick: (at_ms: number) => void;
  readonly key: (event: KeyboardEvent) => void;
}

/** The chart of a group of channels over the whole casting, and what hands do to it. */
export function useChart(view: View, group: string): ChartWork {
  const host = useRef<HTMLDivElement>(null);
  const chart = useRef<TimeChart | null>(null);
  const now_ms = useMemo(() => Date.now(), [view]);
  const whole = useMemo(() => wholeStretch(view, now_ms)!, [view, now_ms]);
  const ends = useRef<Stretch>(whole);
  ends.current = whole;
  const stretch = useRef<Stretch>(whole);
  const shown = useSignal<Stretch>(whole);
  const picked = useSignal<number | null>(null);
  const came = useSignal(0);
  const busy = useSignal(true);
  const settled = useRef(false);
  const latest = useRef<ChartContent | null>(null);
  const samples = useSamples(view, () => {
    came.value += 1;
    refill();
  });
  const content = useMemo(
    (): ChartContent => ({
      lines: linesOf(view, group, samples.source, samples.files ?? []),
      heats: heatsBegun(view).map(planCorners),
      marks: marksOf(view),
      now_ms,
    }),
    [view, group, samples.source, samples.files, now_ms],
  );
  latest.current = content;
  settled.current = samples.settled;

  const refill = () => {
    if (latest.current) chart.current?.refill(latest.current);
  };
  const rested = () => {
    shown.value = stretch.current;
    busy.value = !settled.current || samples.source.pending > 0;
  };
  const move = (to: Stretch) => {
    stretch.current = held(to, ends.current);
    chart.current?.show(stretch.current);
  };
  const pick = (at_ms: number) => {
    const at = Math.min(Math.max(at_ms, stretch.current.from_ms), stretch.current.to_ms);
    picked.value = at;
    chart.current?.pick(at);
  };

  useLayoutEffect(() => {
    const element = host.current!;
    const { timeZone, dayOne } = view.genesis;
    const made = new TimeChart(element, {
      ticks: new TimeTicks(timeZone, dayOne),
      colours: palette(element),
      content: latest.current!,
      stretch: stretch.current,
      onRest: rested,
    });
    chart.current = made;
    if (picked.peek() !== null) made.pick(picked.peek());
    const parts = [
      listen(made, { stretch: () => stretch.current, move, pick }),
      onPaletteChange(() => made.paint(palette(element))),
    ];
    const sized = new ResizeObserver(() => made.resize());
    sized.observe(element);
    return () => {
      for (const end of parts) end();
      sized.disconnect();
      made.destroy();
      chart.current = null;
    };
  }, []);
  useEffect(refill, [content, samples.settled]);

  const step = () => (stretch.current.to_ms - stretch.current.from_ms) / (host.current?.clientWidth ?? 600);
  const ways = {
    earlier: () => move(panned(stretch.current, -STEP)),
    later: () => move(panned(stretch.current, STEP)),
    closer: () => move(zoomed(stretch.current, 1 / FACTOR)),
    wider: () => move(zoomed(stretch.current, FACTOR)),
    whole: () => move(ends.current),
    heat: () => move(heatStretch(view, now_ms) ?? ends.current),
  };
  const middle = () => (stretch.current.from_ms + stretch.current.to_ms) / 2;
  const keys: Readonly<Record<string, () => void>> = {
    ArrowLeft: ways.earlier,
    ArrowRight: ways.later,
    '+': ways.closer,
    '=': ways.closer,
    ArrowUp: ways.closer,
    '-': ways.wider,
    ArrowDown: ways.wider,
    Home: ways.whole,
    End: ways.heat,
    Enter: () => pick(middle()),
    ',': () => pick((picked.peek() ?? middle()) - PICK_PX * step()),
    '.': () => pick((picked.peek() ?? middle()) + PICK_PX * step()),
  };
  return {
    host,
    content,
    shown: shown.value,
    picked_ms: picked.value,
    came,
    lacking: samples.lacking,
    busy: busy.value,
    ...ways,
    pick,
    key: (event) => {
      const does = event.ctrlKey || event.metaKey || event.altKey ? undefined : keys[event.key];
      if (!does) return;
      event.preventDefault();
      does();
    },
  };
}
