import { type Signal, useSignal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import type { KeptChart } from '../../../storage/kept-chart.ts';
import type { ChartContent, Stretch } from './chart-content.ts';
import { heatStretch, heatsBegun, linesOf, marksOf, wholeStretch } from './heat-content.ts';
import { planCorners } from './heat-outline.ts';
import { useSamples } from './use-samples.ts';
import { type ChartHands, useTimeChart } from './use-time-chart.ts';

export interface ChartWork extends ChartHands {
  readonly content: ChartContent;
  /** Up when more samples have come: what is said of them is asked anew. */
  readonly came: Signal<number>;
  readonly lacking: readonly string[];
  /** More of what is shown is still being read. */
  readonly busy: boolean;
}

/**
 * The chart of a group of channels over the whole casting, and what hands do to it.
 * @param heat the heat that it opens at; left out: all
 * @param kept what stands until the samples are read
 */
export function useChart(
  view: View,
  group: string,
  heat: string | undefined,
  kept: KeptChart | null,
  place: RefObject<Stretch | null>,
): ChartWork {
  const now_ms = useMemo(() => Date.now(), [view]);
  const whole = useMemo(() => wholeStretch(view, now_ms)!, [view, now_ms]);
  const came = useSignal(0);
  const busy = useSignal(true);
  const refill = useRef(() => {});
  const samples = useSamples(view, () => {
    came.value += 1;
    refill.current();
  });
  const content = useMemo(
    (): ChartContent => ({
      lines: linesOf(view, group, samples.source, samples.files, kept),
      heats: heatsBegun(view).map(planCorners),
      marks: marksOf(view),
      now_ms,
    }),
    [view, group, samples.source, samples.files, kept, now_ms],
  );
  const { timeZone, dayOne } = view.genesis;
  const hands = useTimeChart({
    timeZone,
    dayOne,
    content,
    whole,
    heat: heatStretch(view, now_ms, heat) ?? whole,
    place,
    onRest: () => {
      busy.value = !samples.settled || samples.source.pending > 0;
    },
  });
  refill.current = hands.refill;
  useEffect(hands.refill, [samples.settled]);
  useEffect(() => {
    if (heat !== undefined) hands.thisHeat();
  }, [heat]);
  return { ...hands, content, came, lacking: samples.lacking, busy: busy.value };
}
