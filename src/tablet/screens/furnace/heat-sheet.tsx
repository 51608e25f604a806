import { plannedAt, segmentWords } from '../../../../shared/logbook/state/heat.ts';
import { operationAt } from '../../../../shared/logbook/state/round-facts.ts';
import { type Heat, roundsNow } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../../app/time.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { dueWords } from '../../shared-screens/due-words.ts';

/** Segment, planned temperature and band now, the next round, and the button that starts it. */
export function HeatSheet({ view, heat, now_ms }: { view: View; heat: Heat; now_ms: number }) {
  const { timeZone, dayOne } = view.genesis;
  if (heat.ended_ms !== null)
    return (
      <Sheet graduated title={heat.plan.name} beside="ended">
        <div class="pad stack-small">
          <p>
            From {dayAndTime(new Date(heat.start_ms), dayOne, timeZone)} to{' '}
            {dayAndTime(new Date(heat.ended_ms), dayOne, timeZone)}.
          </p>
          <Counts heat={heat} now_ms={heat.ended_ms} />
        </div>
      </Sheet>
    );
  const planned = plannedAt(heat, now_ms);
  const over = now_ms > heat.planEnds_ms;
  const operation = operationAt(view, heat, now_ms);
  const rounds = roundsNow(heat, now_ms);
  return (
    <Sheet
      graduated
      title={`Segment ${planned.segment}`}
      beside={segmentWords(heat.plan, planned.segment)}
      aside={over ? 'plan is over' : undefined}
    >
      <dl class="beside pad">
        <div>
          <dt class="note">planned now</dt>
          <dd>
            <Figure value={planned.planned_C} decimals={1} unit="°C" class="planned-now" />
          </dd>
        </div>
        <div>
          <dt class="note">band</dt>
          <dd>
            <span class="n">
              {(planned.planned_C - planned.band_K).toFixed(0)} to {(planned.planned_C + planned.band_K).toFixed(0)}
            </span>
          </dd>
        </div>
        <div>
          <dt class="note">rate</dt>
          <dd>
            <Figure value={planned.rate_K_h} decimals={planned.rate_K_h % 1 === 0 ? 0 : 2} signed unit="K/h" />
          </dd>
        </div>
        <div>
          <dt class="note">in the segment</dt>
          <dd>
            <Figure value={planned.hour - planned.from_h} decimals={1} unit="h" />
          </dd>
        </div>
        <div>
          <dt class="note">{planned.segment < heat.plan.segments.length ? 'to the next' : 'to the end'}</dt>
          <dd>
            <Figure value={Math.max(0, planned.until_h - planned.hour)} decimals={1} unit="h" />
          </dd>
        </div>
      </dl>
      <div class="pad stack-small">
        <p class="heat-due">{dueWords(view.genesis, rounds, now_ms)}</p>
        <a class="button main wide" href={`/furnace/${operation}/round`}>
          {rounds.current ? `Start round ${rounds.current.number}` : 'Read the channels'}
        </a>
        <Counts heat={heat} now_ms={now_ms} />
      </div>
    </Sheet>
  );
}

function Counts({ heat, now_ms }: { heat: Heat; now_ms: number }) {
  const { written, missed } = roundsNow(heat, now_ms);
  return (
    <p class="small dim">
      <span class="n">{written}</span> of <span class="n">{heat.rounds.length}</span> rounds written
      {missed.length > 0 && (
        <>
          , <span class="n">{missed.length}</span> missed
        </>
      )}
      .
    </p>
  );
}
