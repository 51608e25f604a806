import type { ComponentChildren, TargetedInputEvent } from 'preact';
import { useId } from 'preact/hooks';
import './fields.css';

type Shown = {
  label: string;
  text: string;
  onText: (text: string) => void;
  /** What is wrong, in words. The text stays. */
  error?: string | undefined;
  /** A quiet line below, where nothing is wrong. */
  note?: ComponentChildren;
  id?: string | undefined;
};

export type FigureFieldProps = Shown & {
  unit: string;
  /** The figure is only a starting point yet: it is written thin. */
  quiet?: boolean | undefined;
};

/** A field for one figure with its unit; the system's own keys may come. */
export function FigureField({ label, unit, quiet, text, onText, error, note, id }: FigureFieldProps) {
  const said = useId();
  return (
    <div class="form-field">
      <label class="labelled">
        <span>{label}</span>
        <span class={`input figure-input ${error ? 'wrong' : ''}`}>
          <input
            id={id ?? `field-${said}`}
            class={`n ${quiet ? 'quiet' : ''}`}
            value={text}
            onInput={(event) => onText(event.currentTarget.value)}
            inputMode="decimal"
            autoComplete="off"
            spellcheck={false}
            enterkeyhint="next"
            aria-invalid={error ? true : undefined}
            aria-describedby={said}
          />
          {unit && <span class="u">{unit}</span>}
        </span>
      </label>
      <Said id={said} error={error} note={note} />
    </div>
  );
}

export type TextFieldProps = Shown & {
  date?: boolean | undefined;
  /** The latest date that can be meant. */
  max?: string | undefined;
};

/** A field for a name, a few words or a date. */
export function TextField({ label, text, onText, error, note, id, date, max }: TextFieldProps) {
  const said = useId();
  const shared = {
    id: id ?? `field-${said}`,
    class: `input ${error ? 'wrong' : ''}`,
    value: text,
    onInput: (event: TargetedInputEvent<HTMLInputElement>) => onText(event.currentTarget.value),
    autoComplete: 'off',
    spellcheck: false,
    enterkeyhint: 'next' as const,
    'aria-invalid': error ? true : undefined,
    'aria-describedby': said,
  };
  return (
    <div class="form-field">
      <label class="labelled" htmlFor={shared.id}>
        <span>{label}</span>
        {date ? <input type="date" max={max} {...shared} /> : <input type="text" {...shared} />}
      </label>
      <Said id={said} error={error} note={note} />
    </div>
  );
}

export type SelectFieldProps = Shown & { choices: readonly { value: string; label: string }[] };

/** One of a long list, with the system's own picker. */
export function SelectField({ label, text, onText, error, note, id, choices }: SelectFieldProps) {
  const said = useId();
  return (
    <div class="form-field">
      <label class="labelled">
        <span>{label}</span>
        <select
          id={id ?? `field-${said}`}
          class={`input ${error ? 'wrong' : ''}`}
          value={text}
          onChange={(event) => onText(event.currentTarget.value)}
          aria-invalid={error ? true : undefined}
          aria-describedby={said}
        >
          {choices.map(({ value, label: words }) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <Said id={said} error={error} note={note} />
    </div>
  );
}

function Said({ id, error, note }: { id: string; error?: string | undefined; note?: ComponentChildren }) {
  return (
    <p id={id} class={error ? 'form-error' : 'note'} role={error ? 'status' : undefined}>
      {error ?? note}
    </p>
  );
}

/** Enter moves on: to the next field of the form, or to its button. For `onKeyDown` of the form. */
export function enterMovesOn(event: KeyboardEvent): void {
  const from = event.target as HTMLElement;
  if (event.key !== 'Enter' || event.defaultPrevented || !(from instanceof HTMLInputElement)) return;
  event.preventDefault();
  const stops = [...(event.currentTarget as HTMLElement).querySelectorAll<HTMLElement>('input, select, button')];
  const next = stops[stops.indexOf(from) + 1];
  next?.focus();
  if (next instanceof HTMLInputElement && next.type === 'text') next.select();
}
