import { useMemo, useState } from 'preact/hooks';
import { groupName } from '../../../../shared/logbook/state/channels.ts';
import { heatInWork } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { openView } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import type { Stretch } from './chart/chart-content.ts';
import { groupsOf, marksOf, wholeStretch } from './chart/heat-content.ts';
import { type ChartWork, useChart } from './chart/use-chart.ts';
import { PickedSheet } from './picked-sheet.tsx';

/** All heats on one time axis: plan, band, samples and rounds, with findings and hold points. */
export function HeatChart() {
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
        <Drawn view={view} />
      )}
    </Screen>
  );
}

function Drawn({ view }: { view: View }) {
  const groups = useMemo(() => groupsOf(view), [view]);
  const [group, setGroup] = useState(() => heatInWork(view)?.plan.control[0] ?? groups.at(-1)!);
  const work = useChart(view, group);
  return (
    <>
      <Sheet
        class="heat-chart-sheet"
        title="Temperature"
        beside={`°C, ${stretchWords(view, work.shown)}`}
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
      >
        <p class="hidden-text" id="chart-keys">
          Arrow keys left and right move in time, up and down bring it closer or wider; Home shows the whole casting,
          End the heat. Enter reads in the middle, comma and full stop go on from there.
        </p>
        <div
          class="heat-chart"
          ref={work.host}
          role="application"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: keys must reach it
          tabIndex={0}
          aria-label={`Chart of ${groupName(group)}, ${stretchWords(view, work.shown)}`}
          aria-describedby="chart-keys"
          aria-busy={work.busy}
          onKeyDown={work.key}
        />
        <Buttons work={work} />
      </Sheet>
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

function Buttons({ work }: { work: ChartWork }) {
  return (
    <div class="buttons heat-chart-buttons no-print">
      <button type="button" class="button" onClick={work.earlier}>
        Earlier
      </button>
      <button type="button" class="button" onClick={work.later}>
        Later
      </button>
      <button type="button" class="button" onClick={work.closer}>
        Closer
      </button>
      <button type="button" class="button" onClick={work.wider}>
        Wider
      </button>
      <button type="button" class="button" onClick={work.heat}>
        This heat
      </button>
      <button type="button" class="button" onClick={work.whole}>
        All heats
      </button>
    </div>
  );
}

function stretchWords(view: View, { from_ms, to_ms }: Stretch): string {
  const { timeZone, dayOne } = view.genesis;
  return `${dayAndTime(new Date(from_ms), dayOne, timeZone)} to ${dayAndTime(new Date(to_ms), dayOne, timeZone)}`;
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
