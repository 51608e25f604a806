import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import './choice-list.css';

export type Choice<Value extends string> = {
  value: Value;
  label: ComponentChildren;
  /** A second line. */
  detail?: ComponentChildren;
};

export type ChoiceListProps<Value extends string> = {
  /** The question. */
  legend: string;
  /** The question stands on the screen already. */
  legendHidden?: boolean | undefined;
  choices: Choice<Value>[];
  value: Value | null;
  onChoice: (value: Value) => void;
};

/** One of several: rows of 56 px, arrow keys move between them. */
export function ChoiceList<Value extends string>(props: ChoiceListProps<Value>) {
  const { legend, legendHidden, choices, value, onChoice } = props;
  const name = useId();
  return (
    <fieldset class="choices">
      <legend class={legendHidden ? 'hidden-text' : 'small dim'}>{legend}</legend>
      {choices.map((choice) => (
        <label key={choice.value} class="row choice">
          <input
            type="radio"
            name={name}
            value={choice.value}
            checked={choice.value === value}
            onChange={() => onChoice(choice.value)}
          />
          <span class="grow">
            <span class="choice-label">{choice.label}</span>
            {choice.detail && <span class="choice-detail small dim">{choice.detail}</span>}
          </span>
        </label>
      ))}
    </fieldset>
  );
}
