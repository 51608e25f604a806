import { useSignal } from '@preact/signals';
import { type Instrument, instruments, questionAt } from '../../../../shared/logbook/state/instruments.ts';
import { questionWords } from '../../../../shared/logbook/state/recall-facts.ts';
import { openView } from '../../app/tablet.ts';
import { dateIn, dayAndTime, isoWithOffset, now } from '../../app/time.ts';
import { ConditionMark } from '../../parts/condition-mark.tsx';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { OpenArrangements } from '../../shared-screens/open-arrangements.tsx';
import { type CalibrationState, calibrationState } from './calibration.ts';
import { InstrumentForm } from './instrument-form.tsx';
import { RecallForm } from './recall-form.tsx';
import { Said } from './said.tsx';

export const today = (): string => dateIn(now.value, openView().genesis.timeZone);

const MARKS = { in: 'met', soon: 'not-here', out: 'blocks' } as const;
const LOOKS = { in: 'dim', soon: 'setup-soon', out: 'setup-out' } as const;

/** The register of instruments, and how each stands with its calibration. */
export function Instruments() {
  const list = instruments(openView());
  const show = useSignal<string | null>(null);
  const said = useSignal<string | null>(null);
  const bad = useSignal(false);
  const chosen = list.find((i) => i.id === show.value) ?? null;
  const close = (words?: string) => {
    bad.value = false;
    show.value = null;
    said.value = words ?? null;
  };
  const open = (id: string) => {
    show.value = id;
    said.value = null;
  };
  const adding = show.value === '';
  return (
    <>
      <Sheet
        title={chosen ? chosen.id : adding ? 'Add an instrument' : 'The register'}
        aside={chosen && 'a change is a new line'}
        graduated
        class="setup-side"
      >
        {chosen || adding ? (
          <>
            {chosen && <FoundBad found={chosen} onBad={() => (bad.value = true)} />}
            <InstrumentForm key={show.value} before={chosen} onDone={close} />
          </>
        ) : (
          <Standing list={list} said={said.value} onAdd={() => open('')} />
        )}
      </Sheet>
      {chosen && bad.value && (
        <RecallForm
          found={chosen}
          onClose={() => {
            bad.value = false;
          }}
          onDone={close}
        />
      )}
      <div class="setup-list setup-stack">
        <OpenArrangements view={openView()} kind="instrument" make="Borrow an instrument for a time" />
        <Sheet title="Instruments" aside={list.length > 0 && `${list.length} in the register`}>
          {list.length === 0 ? (
            <div class="empty">
              <p>
                Each instrument of the crew stands here with its uncertainty and its calibration. None is entered yet.
              </p>
            </div>
          ) : (
            <ul class="rows">
              {list.map((i) => (
                <li key={i.id}>
                  <Row found={i} current={i.id === show.value} onOpen={() => open(i.id)} />
                </li>
              ))}
            </ul>
          )}
        </Sheet>
      </div>
    </>
  );
}

/** How it stands today: one that was found bad is out, whatever its due date. */
function standingOf(found: Instrument): CalibrationState {
  const question = questionAt(found, isoWithOffset(now.value));
  if (!question) return calibrationState(found.line, today());
  const { dayOne, timeZone } = openView().genesis;
  return { state: 'out', words: `found bad ${dayAndTime(question.foundAt, dayOne, timeZone)}, not calibrated since` };
}

/** Where an instrument turns out bad, one tap leads to what hangs on it. */
function FoundBad({ found, onBad }: { found: Instrument; onBad: () => void }) {
  const last = found.questions.at(-1);
  return (
    <div class="pad setup-panel">
      {last && <p>{questionWords(openView(), last)}</p>}
      <button type="button" class="button wide" onClick={onBad}>
        It was found bad
      </button>
    </div>
  );
}

function Row({ found, current, onOpen }: { found: Instrument; current: boolean; onOpen: () => void }) {
  const { id, line } = found;
  const { state, words } = standingOf(found);
  const kind = openView().plan.instrumentClasses.find((c) => c.id === line.class);
  return (
    <button type="button" class="row" aria-current={current ? 'true' : undefined} onClick={onOpen}>
      <ConditionMark condition={MARKS[state]} decorative />
      <span class="grow">
        <b>
          <span class="n">{id}</span> {line.name === id ? (kind?.name ?? line.class) : line.name}
        </b>
        <span class={`second small ${LOOKS[state]}`}>{words}</span>
      </span>
      <span class="small dim">
        u <Figure value={line.standardUncertainty} unit={line.unit} decimals={decimalsOf(line.standardUncertainty)} />
      </span>
    </button>
  );
}

/** An uncertainty with the digits that it was given. */
const decimalsOf = (value: number): number => (String(value).split('.')[1] ?? '').length;

function Standing({ list, said, onAdd }: { list: readonly Instrument[]; said: string | null; onAdd: () => void }) {
  const states = list.map((found) => standingOf(found).state);
  const count = (state: string) => states.filter((s) => s === state).length;
  return (
    <div class="pad setup-panel">
      <Said words={said} />
      {list.length > 0 && (
        <dl class="facts">
          <dt>in calibration</dt>
          <dd class="n">{count('in')}</dd>
          <dt>due within 14 days</dt>
          <dd class={`n ${count('soon') > 0 ? 'setup-soon' : ''}`}>{count('soon')}</dd>
          <dt>out of calibration</dt>
          <dd class={`n ${count('out') > 0 ? 'setup-out' : ''}`}>{count('out')}</dd>
        </dl>
      )}
      <p class="dim">
        A reading keeps the uncertainty of its instrument as it stood. One that is out of calibration may still record:
        the reading is flagged, and a hold point waits for it.
      </p>
      <button type="button" class="button main" onClick={onAdd}>
        Add an instrument
      </button>
    </div>
  );
}
