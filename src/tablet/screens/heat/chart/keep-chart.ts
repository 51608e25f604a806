import { effect } from '@preact/signals';
import { store, view } from '../../../app/tablet.ts';
import { inIdleTime } from '../../../storage/in-idle-time.ts';
import { putKeptChart, readKeptChart } from '../../../storage/kept-chart.ts';
import { stampOf } from '../../../storage/now-row.ts';
import { makeKept } from './make-kept.ts';

/** So long nothing new must have come: not while somebody walks a round. */
const QUIET_MS = 2_000;
let following = false;

/** Keeps the chart beside the log whenever that has rested; each tablet that shows the chart calls it. */
export function keepChart(): void {
  if (following) return;
  following = true;
  let waiting: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    clearTimeout(waiting);
    if (view.value) waiting = setTimeout(() => inIdleTime(() => void keepChartNow(false)), QUIET_MS);
  });
}

/** @param again also where it is kept for this log: more samples have come */
export async function keepChartNow(again: boolean): Promise<void> {
  const open = store.peek();
  const v = view.peek();
  if (!open || !v?.judge || open.damaged.length > 0) return;
  const stamp = stampOf(open.stamp);
  if (!again && readKeptChart(open.db.casting, stamp)) return;
  try {
    const kept = await makeKept(v, open.db, stamp, Date.now());
    if (kept) putKeptChart(kept);
  } catch (error) {
    console.error('The chart is kept the next time', error);
  }
}
