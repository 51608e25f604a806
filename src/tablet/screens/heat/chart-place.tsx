import { signal } from '@preact/signals';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { nowShard } from '../../app/now-shard.ts';
import { ReadingLog } from '../../app/reading-log.tsx';
import { logStamp, openDatabase, view } from '../../app/tablet.ts';
import { readKeptChart } from '../../storage/kept-chart.ts';
import type { Stretch } from './chart/chart-content.ts';
import './heat.css';
import { KeptChart } from './kept-chart.tsx';

/** What works the chart out of the log: the first frame does not wait for it. */
const worked = signal<typeof import('./heat-chart.tsx') | null>(null);

/** The chart of all heats: as it was kept at first, and from the log once that is read. */
export function ChartPlace() {
  const place = useRef<Stretch>(null);
  const stamp = logStamp.value;
  // It stands until the samples are read; where the database names another log than was expected, it goes.
  const kept = useMemo(() => (stamp === null ? null : readKeptChart(openDatabase().casting, stamp)), [stamp]);
  useEffect(() => {
    const waiting = requestAnimationFrame(() =>
      setTimeout(async () => {
        worked.value ??= await import('./heat-chart.tsx');
      }),
    );
    return () => cancelAnimationFrame(waiting);
  }, []);
  if (view.value && worked.value) return <worked.value.HeatChart kept={kept} place={place} />;
  const frame = view.value?.genesis ?? nowShard.value?.frame;
  if (kept && frame) return <KeptChart kept={kept} timeZone={frame.timeZone} dayOne={frame.dayOne} place={place} />;
  return view.value ? null : <ReadingLog />;
}
