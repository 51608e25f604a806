import type { View } from '../../../../shared/logbook/state/view.ts';
import type { TimeGrid } from '../../../../shared/logger/columns.ts';
import { dayAndTime } from '../../app/time.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import type { ChartLine } from './chart/chart-content.ts';
import { plannedOn } from './chart/planned-on.ts';
import type { ChartWork } from './chart/use-chart.ts';

/** As wide as what a finger means on the chart. */
const FINGER_PX = 6;
const PLOT_PX = 800;

/** What a line says near an instant: its samples, and the nearest reading of a round. */
interface Said {
  readonly least: number | null;
  readonly greatest: number | null;
  readonly reading: { readonly at_ms: number; readonly value: number } | null;
}

function saidAt(line: ChartLine, at_ms: number, width_ms: number): Said {
  const grid: TimeGrid = { from_ms: at_ms - width_ms / 2, column_ms: width_ms, columns: 1 };
  const { least, greatest } = line.columns(grid);
  const reading = line.readings.reduce<ChartLine['readings'][number] | null>(
    (best, r) => (best === null || Math.abs(r.at_ms - at_ms) < Math.abs(best.at_ms - at_ms) ? r : best),
    null,
  );
  const near = reading && Math.abs(reading.at_ms - at_ms) <= Math.max(width_ms, 3_600_000) ? reading : null;
  return line.sampled
    ? { least: least[0] ?? null, greatest: greatest[0] ?? null, reading: near }
    : { least: null, greatest: null, reading: near };
}

/** The readings at the picked instant. */
export function PickedSheet({ view, work }: { view: View; work: ChartWork }) {
  const { timeZone, dayOne } = view.genesis;
  const { picked_ms, content, shown } = work;
  void work.came.value;
  if (picked_ms === null)
    return (
      <Sheet graduated title="Readings">
        <p class="pad">Tap the chart, or press Enter on it, to read it there.</p>
      </Sheet>
    );
  const width_ms = ((shown.to_ms - shown.from_ms) / PLOT_PX) * FINGER_PX;
  const planned = plannedOn(content.heats, [picked_ms]).planned[0] ?? null;
  return (
    <Sheet graduated title="Readings" beside={dayAndTime(new Date(picked_ms), dayOne, timeZone)}>
      <p class="pad small">
        Planned: <Figure value={planned} decimals={1} unit="°C" />
      </p>
      <div aria-live="polite">
        <ul class="rows">
          {content.lines.map((line) => {
            const { least, greatest, reading } = saidAt(line, picked_ms, width_ms);
            const where = view.plan.channels.find((c) => c.id === line.name)?.where;
            const middle = least === null || greatest === null ? (reading?.value ?? null) : (least + greatest) / 2;
            return (
              <li key={line.name}>
                <a class="row" href={`/heat/channel/${encodeURIComponent(line.name)}`}>
                  <span class="grow">
                    <b class="n">{line.name}</b>
                    <span class="second small dim">{where}</span>
                  </span>
                  <span class="picked-values">
                    {least !== null && greatest !== null ? (
                      <Span least={least} greatest={greatest} />
                    ) : (
                      <span class="small dim">no sample</span>
                    )}
                    {reading && (
                      <span class="second small">
                        round <Figure value={reading.value} decimals={1} unit="°C" />
                      </span>
                    )}
                    {planned !== null && middle !== null && (
                      <span class="second small dim">
                        <Figure value={middle - planned} decimals={1} signed unit="K" /> off the plan
                      </span>
                    )}
                  </span>
                </a>
              </li>
            );
          })}
        </ul>
      </div>
    </Sheet>
  );
}

/** One figure where they round to the same, else both. */
function Span({ least, greatest }: { least: number; greatest: number }) {
  return least.toFixed(1) === greatest.toFixed(1) ? (
    <Figure value={least} decimals={1} unit="°C" />
  ) : (
    <span>
      <Figure value={least} decimals={1} /> to <Figure value={greatest} decimals={1} unit="°C" />
    </span>
  );
}
