import type { TargetedInputEvent, TargetedKeyboardEvent } from 'preact';
import { useId, useLayoutEffect, useRef } from 'preact/hooks';
import { caretIn, groupTyped, ungroup } from './group-typed.ts';
import './reading-field.css';

export type ReadingFieldProps = {
  /** What is measured, for a screen reader: "105° at 500 mm". */
  label: string;
  /** The text as typed, without thousands spaces. It stays whatever it is: the caller reads it with `parseFigure`. */
  text: string;
  onText: (text: string) => void;
  /** Enter on any keyboard, and the end that a typing gauge sends. */
  onEnter: () => void;
  /** Whether a gauge typed the text up to now: some end a value with a tab, which a person moves on with. */
  isGauge?: ((at_ms: number) => boolean) | undefined;
  unit: string;
  /** What is wrong with the text, in words. The text stays. */
  error?: string | undefined;
  /** Takes the keyboard when it appears and whenever this changes: give the station's name. */
  focusKey?: string | undefined;
  /** There is no keypad beside it: the system's own may come. */
  systemKeys?: boolean | undefined;
  placeholder?: string | undefined;
};

/** The big field of a reading. The keypad, a hardware keyboard and a typing gauge all write into it. */
export function ReadingField(props: ReadingFieldProps) {
  const { label, text, onText, onEnter, isGauge, unit, error, focusKey, systemKeys, placeholder } = props;
  const input = useRef<HTMLInputElement>(null);
  const caret = useRef<number | null>(null);
  const errorId = useId();
  const shown = groupTyped(text);

  useLayoutEffect(() => {
    if (caret.current === null || !input.current) return;
    const at = caretIn(shown, caret.current);
    input.current.setSelectionRange(at, at);
    caret.current = null;
  }, [shown]);
  useLayoutEffect(() => {
    if (focusKey !== undefined) input.current?.focus({ preventScroll: true });
  }, [focusKey]);

  const onInput = (event: TargetedInputEvent<HTMLInputElement>) => {
    const { value, selectionStart } = event.currentTarget;
    caret.current = ungroup(value.slice(0, selectionStart ?? value.length)).length;
    onText(ungroup(value));
  };
  const onKeyDown = (event: TargetedKeyboardEvent<HTMLInputElement>) => {
    // Carriage return and line feed come as Enter, or as the control keys that have always stood for them.
    const ends = event.key === 'Enter' || (event.ctrlKey && /^[jm]$/i.test(event.key));
    const tab = event.key === 'Tab' && !event.shiftKey && isGauge?.(event.timeStamp) === true;
    if (!ends && !tab) return;
    event.preventDefault();
    onEnter();
  };
  return (
    <div class="field-box">
      <label class={`field ${error ? 'field-wrong' : ''}`}>
        <span class="hidden-text">{`${label}, ${unit}`}</span>
        <input
          ref={input}
          value={shown}
          onInput={onInput}
          onKeyDown={onKeyDown}
          inputMode={systemKeys ? 'decimal' : 'none'}
          autoComplete="off"
          spellcheck={false}
          enterkeyhint="next"
          placeholder={placeholder}
          aria-invalid={error ? true : undefined}
          aria-describedby={error ? errorId : undefined}
        />
        <span class="u" aria-hidden="true">
          {unit}
        </span>
      </label>
      <p id={errorId} class="field-error" role="status">
        {error}
      </p>
    </div>
  );
}
