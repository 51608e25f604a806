import type { View } from '../../../../shared/logbook/state/view.ts';
import { type LoggerReport, linesWords, reasonWords, reportText } from '../../../../shared/logger/report.ts';
import { dayAndTime, dayNumber } from '../../app/time.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { handOut } from '../../storage/packed-file.ts';
import type { LoggerFileWork, LoggerStep } from './use-logger-file.ts';

const RANGES = 12;

/** Every row that is not taken, and why. */
export function ReportSheet({ view, report }: { view: View; report: LoggerReport }) {
  const { timeZone, dayOne } = view.genesis;
  const { refused } = report;
  return (
    <Sheet title="What is not taken" beside={refused.length === 0 ? 'nothing' : undefined}>
      {refused.length === 0 ? (
        <div class="empty">
          <p>Every row and every value of the file is taken.</p>
        </div>
      ) : (
        <ul class="rows">
          {refused.map((r) => (
            <li key={`${r.reason}${r.column}`}>
              <span class="grow">
                <b>{reasonWords(r)}</b>
                <span class="second small dim">
                  lines <span class="n">{linesWords(r.lines, RANGES)}</span>; the first is "{r.example}"
                </span>
              </span>
            </li>
          ))}
        </ul>
      )}
      <div class="pad stack-small small">
        <p>
          From {dayAndTime(new Date(report.from_ms), dayOne, timeZone)} to{' '}
          {dayAndTime(new Date(report.to_ms), dayOne, timeZone)}.
        </p>
        {dayNumber(new Date(report.from_ms), dayOne, timeZone) < 1 && (
          <p>It begins before day 1 of the casting: is it the right file, and the date in the right order?</p>
        )}
        {report.emptyCells > 0 && (
          <p>
            <span class="n">{report.emptyCells}</span> cells are empty: no sample.
          </p>
        )}
        {report.outOfOrder > 0 && (
          <p>
            <span class="n">{report.outOfOrder}</span> rows stood out of order in time and are put in order.
          </p>
        )}
        {report.repeatedHour > 0 && (
          <p>
            <span class="n">{report.repeatedHour}</span> times stand in the hour that comes twice when the clocks are
            put back; which of the two they are follows from the row before.
          </p>
        )}
      </div>
    </Sheet>
  );
}

/** What is taken, and the button that takes it. */
export function ReportActions(props: { step: Extract<LoggerStep, { at: 'read' | 'keeping' }>; work: LoggerFileWork }) {
  const { step, work } = props;
  const { report, file } = step;
  const busy = step.at === 'keeping';
  return (
    <Sheet graduated title="What it gives" beside={file.name}>
      <div class="pad stack-small">
        {work.fault && (
          <p class="field-error" role="alert">
            {work.fault}
          </p>
        )}
        <p>
          <Figure value={report.taken} decimals={0} class="planned-now" /> of{' '}
          <Figure value={report.rows} decimals={0} /> rows, <Figure value={report.samples} decimals={0} /> samples.
        </p>
        <button type="button" class="button main wide" aria-busy={busy} onClick={() => void work.take()}>
          {busy ? 'Keeping it' : report.taken === report.rows ? 'Take it in' : 'Take in what fits'}
        </button>
        <div class="buttons">
          <button type="button" class="button" onClick={work.back}>
            Change how it is read
          </button>
          <button
            type="button"
            class="button"
            onClick={() =>
              handOut(new Blob([reportText(file.name, report)], { type: 'text/plain' }), `${file.name}.report.txt`)
            }
          >
            Save this report
          </button>
          <button type="button" class="button" onClick={work.leave}>
            Leave it
          </button>
        </div>
        <p class="small dim">The file itself is kept as it is; its rows stay readable, those not taken too.</p>
      </div>
    </Sheet>
  );
}
