import { holdState } from '../../../../shared/logbook/state/holds.ts';
import type { Schedule } from '../../../../shared/logbook/state/schedule.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { dateWords, holdDateWords, slipWords, standingWords } from './in-time-words.ts';

/** When the whole will be finished, and the hold point that comes next. */
export function FinishSheet({ view, schedule }: { view: View; schedule: Schedule }) {
  const { timeZone } = view.genesis;
  const hold = view.plan.holds.find((h) => ['open', 'ready'].includes(holdState(view, h).status));
  const next = hold && schedule.holds.find((h) => h.id === hold.id);
  const done = schedule.operations.every((o) => o.progress === 'done');
  return (
    <Sheet label="Forecast" class="finish">
      <p>
        <b>
          {done ? 'Finished' : 'Forecast of the finish'}{' '}
          <span class="n">{dateWords(schedule.finish_ms, timeZone)}</span>
        </b>
        , {slipWords(schedule.slip_ms)} (<span class="n">{dateWords(schedule.plannedFinish_ms, timeZone)}</span>).
      </p>
      {next && hold && (
        <p class="small">
          Next hold point <b>{hold.id}</b> {hold.name}: {holdDateWords(next, timeZone)}, {standingWords(next)}.
        </p>
      )}
    </Sheet>
  );
}
