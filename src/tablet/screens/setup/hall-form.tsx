import { useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { Hall } from '../../../../shared/logbook/state/hall.ts';
import { keepHall } from '../../acts/hall.ts';
import { useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { enterMovesOn, TextField } from '../../shared-screens/fields/field.tsx';
import { hallTexts, readHall } from './read-hall.ts';

/** The hall's numbers, all in one line of the log: a keeper signs it, and it takes the place of the one before. */
export function HallForm({ before, onKept }: { before: Hall | null; onKept: () => void }) {
  const start = useMemo(() => hallTexts(before), [before]);
  const draft = useDraft('setup/hall', start);
  const ask = useSignal<string | null>(null);
  const { busy, problem, run } = useSaving();
  if (!draft.ready) return null;
  const { value, change } = draft;
  const put = (index: number, part: { what?: string; number?: string }) =>
    change({ rows: value.rows.map((row, i) => (i === index ? { ...row, ...part } : row)) });
  const keep = async () => {
    const read = readHall(value);
    ask.value = 'ask' in read ? read.ask : null;
    if ('ask' in read || !(await run(() => keepHall(read.body)))) return;
    onKept();
    await draft.clear();
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Enter in any of the fields moves on; the fields are the controls
    <div class="setup-form" onKeyDown={enterMovesOn}>
      <div class="pad setup-fields">
        <div class="setup-wide">
          <TextField label="Site" text={value.site} onText={(site) => change({ site })} />
        </div>
        {value.rows.map((row, index) => (
          <HallRow key={index} number={index + 1} row={row} onRow={(part) => put(index, part)} />
        ))}
        <button
          type="button"
          class="button setup-wide"
          onClick={() => change({ rows: [...value.rows, { what: '', number: '' }] })}
        >
          One more number
        </button>
        <div class="setup-wide">
          <TextField
            label="Assembly point (optional)"
            text={value.assembly}
            onText={(assembly) => change({ assembly })}
          />
        </div>
        <label class="labelled setup-wide">
          <span>What to say and do (optional)</span>
          <textarea
            class="input"
            maxLength={1000}
            value={value.words}
            onInput={(event) => change({ words: event.currentTarget.value })}
          />
        </label>
      </div>
      <div class="setup-action">
        {(ask.value ?? problem) && (
          <p class="form-error" role="alert">
            {ask.value ?? `Not kept: ${problem}. What you typed still stands.`}
          </p>
        )}
        <button type="button" class="button main wide" aria-busy={busy} onClick={() => void keep()}>
          {busy ? 'Saving' : 'Keep and sign'}
        </button>
      </div>
    </div>
  );
}

interface RowProps {
  readonly number: number;
  readonly row: { readonly what: string; readonly number: string };
  readonly onRow: (part: { what?: string; number?: string }) => void;
}

/** A row without a number is left out. */
function HallRow({ number, row, onRow }: RowProps) {
  return (
    <>
      <TextField label={`For what, ${number}`} text={row.what} onText={(what) => onRow({ what })} />
      <TextField label={`Number ${number}`} text={row.number} onText={(text) => onRow({ number: text })} />
    </>
  );
}
