import type { RefObject } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { groupName } from '../../../../shared/logbook/state/group-name.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { openView } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { inIdleTime } from '../../storage/in-idle-time.ts';
import type { KeptChart } from '../../storage/kept-chart.ts';
import type { Stretch } from './chart/chart-content.ts';
import { groupsOf, marksOf, openingGroup, wholeStretch } from './chart/heat-content.ts';
import { keepChart, keepChartNow } from './chart/keep-chart.ts';
import { useChart } from './chart/use-chart.ts';
import { ChartFrame } from './chart-frame.tsx';
import { PickedSheet } from './picked-sheet.tsx';

interface Props {
  /** What stands until the samples are read. */
  readonly kept: KeptChart | null;
  readonly place: RefObject<Stretch | null>;
}

/** All heats on one time axis: plan, band, samples and rounds, with findings and hold points. */
export function HeatChart(props: Props) {
  const view = openView();
  const empty = wholeStretch(view, Date.now()) === null;
  return (
    <Screen place="furnace" name="Chart" operation="All heats" work={empty ? '' : 'heat-chart-work'}>
      {empty ? (
        <div class="sheet empty">
          <p>Plan, samples and rounds stand here once a heat is started or a logger file is taken in.</p>
          <a class="button" href="/heat/files">
            Logger files
          </a>
        </div>
      ) : (
        <Drawn view={view} {...props} />
      )}
    </Screen>
  );
}

function Drawn({ view, kept, place }: Props & { view: View }) {
  const { query } = useLocation();
  const groups = useMemo(() => groupsOf(view), [view]);
  const [group, setGroup] = useState(() => openingGroup(view, query.heat)!);
  const work = useChart(view, group, query.heat, kept?.group === group ? kept : null, place);
  const { timeZone, dayOne } = view.genesis;
  const keeping = useRef(false);
  useEffect(() => {
    if (work.busy || keeping.current) return;
    keeping.current = true;
    // It is worth keeping from now on, and anew: samples may have come since.
    inIdleTime(() => void keepChartNow(true));
    keepChart();
  }, [work.busy]);
  return (
    <>
      <ChartFrame
        hands={work}
        name={groupName(group)}
        aside={
          <label class="heat-group">
            <span class="hidden-text">Channels of</span>
            <select class="input" value={group} onChange={(e) => setGroup(e.currentTarget.value)}>
              {groups.map((g) => (
                <option key={g} value={g}>{`${groupName(g)}, ${g}`}</option>
              ))}
            </select>
          </label>
        }
        busy={work.busy}
        timeZone={timeZone}
        dayOne={dayOne}
      />
      <div class="heat-chart-hand">
        {work.lacking.length > 0 && (
          <Sheet title="Not on the chart">
            <div class="pad stack-small">
              {work.lacking.map((words) => (
                <p key={words}>{words}</p>
              ))}
            </div>
          </Sheet>
        )}
        <PickedSheet view={view} work={work} />
        <Marks view={view} shown={work.shown} />
      </div>
    </>
  );
}

const MOST_MARKS = 12;

/** What stands on the time axis now, in words. */
function Marks({ view, shown }: { view: View; shown: Stretch }) {
  const { timeZone, dayOne } = view.genesis;
  const marks = useMemo(() => marksOf(view), [view]);
  const inside = marks.filter((m) => m.at_ms >= shown.from_ms && m.at_ms <= shown.to_ms);
  return (
    <Sheet title="On the time axis" beside={inside.length === 0 ? 'nothing' : undefined}>
      {inside.length === 0 ? (
        <p class="pad small">No finding and no signed hold point in this stretch.</p>
      ) : (
        <ul class="rows">
          {inside.slice(0, MOST_MARKS).map((m) => (
            <li key={m.href}>
              <a class="row" href={m.href}>
                <span class="grow">
                  <b>{m.name}</b>
                  <span class="second small dim">
                    {m.words}, {dayAndTime(new Date(m.at_ms), dayOne, timeZone)}
                  </span>
                </span>
              </a>
            </li>
          ))}
        </ul>
      )}
      {inside.length > MOST_MARKS && (
        <p class="pad small">And {inside.length - MOST_MARKS} more: come closer to see them.</p>
      )}
    </Sheet>
  );
}
