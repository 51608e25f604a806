import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import './yes-no-row.css';

/** The answer to an item of a check sheet. */
export type Answer = 'yes' | 'no' | 'not-applicable';

const ANSWERS: { value: Answer; label: string }[] = [
  { value: 'yes', label: 'yes' },
  { value: 'no', label: 'no' },
  { value: 'not-applicable', label: 'n/a' },
];

export type YesNoRowProps = {
  /** The item's number on the sheet: "3" or "3.2". */
  number: string;
  text: ComponentChildren;
  answer: Answer | null;
  onAnswer: (answer: Answer) => void;
  /** The answer that lets the work go on; the other one wants a hand. */
  good?: 'yes' | 'no' | undefined;
  /** Some items always apply. */
  alwaysApplies?: boolean | undefined;
  /** The note, its field, or what went wrong. */
  children?: ComponentChildren;
};

/** One item of a check sheet. Each answer has its own place, fill and word. */
export function YesNoRow(props: YesNoRowProps) {
  const { number, text, answer, onAnswer, good = 'yes', alwaysApplies, children } = props;
  const name = useId();
  const look = (value: Answer) =>
    value === 'not-applicable' ? 'answer-none' : value === good ? 'answer-good' : 'answer-bad';
  return (
    <fieldset class="yes-no">
      <legend>
        <span class="n yes-no-number">{number}</span>
        <span>{text}</span>
      </legend>
      <div class="answers">
        {ANSWERS.filter(({ value }) => !(alwaysApplies && value === 'not-applicable')).map(({ value, label }) => (
          <label key={value} class={look(value)}>
            <input type="radio" name={name} value={value} checked={answer === value} onChange={() => onAnswer(value)} />
            {value === 'not-applicable' ? (
              <>
                <span aria-hidden="true">{label}</span>
                <span class="hidden-text">not applicable</span>
              </>
            ) : (
              label
            )}
          </label>
        ))}
      </div>
      {children && <div class="yes-no-note">{children}</div>}
    </fieldset>
  );
}
