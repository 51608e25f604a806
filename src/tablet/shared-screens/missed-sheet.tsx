import { useState } from 'preact/hooks';
import { operationAt } from '../../../shared/logbook/state/round-facts.ts';
import type { Heat } from '../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { noteOnRound } from '../acts/rounds.ts';
import { dayAndTime } from '../app/time.ts';
import { useDraft } from '../app/use-draft.ts';
import { useSaving } from '../app/use-saving.ts';
import { someone } from '../app/who.ts';
import { Overlay } from '../parts/overlay.tsx';
import { Sheet } from '../parts/sheet.tsx';
import { span } from './due-words.ts';
import { type MissedRun, missedRunsAt } from './missed-runs.ts';
import './missed-sheet.css';

const SHOWN = 4;
const MINUTE_MS = 60_000;

/** What was missed, with what to do about it. */
export function MissedSheet({ view, heat, now_ms }: { view: View; heat: Heat; now_ms: number }) {
  const [chosen, choose] = useState<MissedRun | null>(null);
  const [all, showAll] = useState(false);
  const runs = missedRunsAt(view, heat, now_ms);
  if (runs.length === 0) return null;
  const shown = all ? runs : runs.slice(0, SHOWN);
  const count = runs.reduce((sum, r) => sum + r.count, 0);
  return (
    <Sheet class="missed-sheet" title="Missed" aside={count === 1 ? '1 round' : `${count} rounds`}>
      <ul class="rows">
        {shown.map((run) => (
          <MissedRow key={run.first.number} view={view} run={run} onChoose={() => choose(run)} />
        ))}
      </ul>
      {shown.length < runs.length && (
        <button type="button" class="row" onClick={() => showAll(true)}>
          {runs.length - shown.length} more
        </button>
      )}
      {chosen && <MissedForm view={view} heat={heat} run={chosen} onClose={() => choose(null)} />}
    </Sheet>
  );
}

/** One run of missed rounds: when, and what was said. */
export function MissedRow({ view, run, onChoose }: { view: View; run: MissedRun; onChoose: () => void }) {
  const { timeZone, dayOne } = view.genesis;
  return (
    <li class={run.reason === null ? 'wants-hand' : ''}>
      <span class="grow">
        <b>{runName(run)}</b>
        <span class="missed-words small">
          {run.count === 1 ? 'due ' : 'first due '}
          {dayAndTime(new Date(run.first.due_ms), dayOne, timeZone)}
          {run.count > 1 && `, over ${span(Math.round((run.last.missedFrom_ms - run.first.due_ms) / MINUTE_MS))}`}.{' '}
          {run.reason ?? 'Nothing written.'}
        </span>
      </span>
      <button type="button" class="button" onClick={onChoose}>
        {run.reason === null ? 'Give reason' : 'Write late'}
      </button>
    </li>
  );
}

const runName = ({ first, last, count }: MissedRun): string =>
  count === 1 ? `Round ${first.number}` : `Rounds ${first.number} to ${last.number}, ${count} in a row`;

/** Why it was missed; or the round itself, from paper, with its true time. */
export function MissedForm(props: { view: View; heat: Heat; run: MissedRun; onClose: () => void }) {
  const { view, heat, run, onClose } = props;
  const draft = useDraft(`missed/${heat.plan.id}/${run.first.number}`, { text: '' });
  const saving = useSaving();
  const [missing, setMissing] = useState(false);
  const rounds = heat.rounds.filter((r) => r.number >= run.first.number && r.number <= run.last.number);
  const { timeZone, dayOne } = view.genesis;
  const keep = async () => {
    const text = draft.latest().text.trim();
    if (text === '') return setMissing(true);
    const done = await saving.run(async () => {
      if (!(await someone())) return false;
      for (const round of rounds) await noteOnRound(heat.plan.id, round.number, text);
      await draft.clear();
      return true;
    });
    if (done) onClose();
  };
  return (
    <Overlay title={runName(run)} onClose={onClose}>
      <label class="labelled">
        <span>Why it was missed</span>
        <textarea
          class="input"
          value={draft.value.text}
          maxLength={1000}
          onInput={(e) => {
            draft.change({ text: e.currentTarget.value });
            setMissing(false);
          }}
        />
      </label>
      {missing && (
        <p class="field-error" role="alert">
          Write a few words first.
        </p>
      )}
      {saving.problem && <p class="field-error">{saving.problem}</p>}
      <button type="button" class="button main wide" onClick={() => void keep()}>
        {saving.busy ? 'Saving' : 'Keep the reason'}
      </button>
      <div>
        <p class="small">
          Was it walked and written on paper? Type it with its true time: then it is written late, and not missed.
        </p>
        <ul class="rows">
          {rounds.slice(0, 12).map((round) => (
            <li key={round.number}>
              <a class="row" href={`/furnace/${operationAt(view, heat, round.due_ms)}/round?missed=${round.number}`}>
                <span class="grow">
                  Write round {round.number} late
                  <span class="missed-words small dim">due {dayAndTime(new Date(round.due_ms), dayOne, timeZone)}</span>
                </span>
              </a>
            </li>
          ))}
        </ul>
      </div>
    </Overlay>
  );
}
