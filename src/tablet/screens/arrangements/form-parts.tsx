import type { ComponentChildren } from 'preact';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { clockTime, dateIn } from '../../app/time.ts';
import type { EndTexts } from './arrangement-draft.ts';

interface EndProps {
  readonly view: View;
  readonly value: EndTexts;
  readonly change: (part: Partial<EndTexts>) => void;
}

const HOUR_MS = 3_600_000;
/** Ends that a gloved hand can pick; counted from now. */
const SOON = [
  { words: 'In 2 hours', hours: 2 },
  { words: 'In 8 hours', hours: 8 },
  { words: 'Tomorrow', hours: 24 },
];

/** When it ends: a time, a condition, or both. */
export function EndFields({ view, value, change }: EndProps) {
  const { timeZone } = view.genesis;
  return (
    <fieldset class="arrange-end">
      <legend class="small dim">It ends at the latest (or say below what ends it)</legend>
      <div class="buttons arrange-wide">
        {SOON.map(({ words, hours }) => (
          <button
            key={words}
            type="button"
            class="button"
            onClick={() => {
              const at = new Date(Date.now() + hours * HOUR_MS);
              change({ date: dateIn(at, timeZone), time: clockTime(at, timeZone) });
            }}
          >
            {words}
          </button>
        ))}
      </div>
      <label class="labelled">
        <span>Date</span>
        <input
          class="input"
          type="date"
          value={value.date || dateIn(new Date(), timeZone)}
          onInput={(e) => change({ date: e.currentTarget.value })}
        />
      </label>
      <label class="labelled">
        <span>Time</span>
        <input
          class="input"
          type="time"
          value={value.time}
          onInput={(e) => change({ time: e.currentTarget.value, date: value.date || dateIn(new Date(), timeZone) })}
        />
      </label>
      <label class="labelled arrange-wide">
        <span>It ends when</span>
        <input
          class="input"
          value={value.when}
          maxLength={400}
          autocomplete="off"
          onInput={(e) => change({ when: e.currentTarget.value })}
        />
      </label>
    </fieldset>
  );
}

interface OwnerProps {
  readonly view: View;
  readonly value: string;
  readonly onOwner: (owner: string) => void;
}

/** Who sees that it ends. */
export function OwnerField({ view, value, onOwner }: OwnerProps) {
  const people = view.standing
    .people()
    .filter((p) => !p.retired || p.id === value)
    .sort((a, b) => a.name.localeCompare(b.name));
  return (
    <label class="labelled">
      <span>Owner: sees that it ends</span>
      <select class="input" value={value} onChange={(e) => onOwner(e.currentTarget.value)}>
        {value === '' && <option value="">choose</option>}
        {people.map((p) => (
          <option key={p.id} value={p.id}>
            {p.name}
          </option>
        ))}
      </select>
    </label>
  );
}

interface WordsProps {
  readonly label: string;
  readonly value: string;
  readonly onText: (text: string) => void;
}

export const WordsField = ({ label, value, onText }: WordsProps) => (
  <label class="labelled">
    <span>{label}</span>
    <textarea class="input" maxLength={2000} value={value} onInput={(e) => onText(e.currentTarget.value)} />
  </label>
);

interface FormProps {
  readonly ask: string | null;
  readonly done: string;
  readonly onDone: () => void;
  readonly onLeave: () => void;
  readonly children: ComponentChildren;
}

/** A form whose buttons stay in sight. */
export function ArrangeForm({ ask, done, onDone, onLeave, children }: FormProps) {
  return (
    <form
      class="pad arrange-form"
      onSubmit={(event) => {
        event.preventDefault();
        onDone();
      }}
    >
      {children}
      <div class="form-end">
        {ask && (
          <p class="form-error" role="alert">
            {ask}
          </p>
        )}
        <div class="buttons">
          <button type="button" class="button" onClick={onLeave}>
            Not now
          </button>
          <button type="submit" class="button main">
            {done}
          </button>
        </div>
      </div>
    </form>
  );
}
