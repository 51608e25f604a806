import { useId } from 'preact/hooks';
import './filter.css';

interface Props<Value extends string> {
  /** What is chosen among. */
  readonly legend: string;
  readonly choices: readonly { readonly value: Value; readonly label: string }[];
  /** Null while nothing is chosen. */
  readonly value: Value | null;
  readonly onChoice: (value: Value) => void;
}

/** A few ways to look at a list, side by side. */
export function Filter<Value extends string>({ legend, choices, value, onChoice }: Props<Value>) {
  const name = useId();
  return (
    <fieldset class="filter">
      <legend class="hidden-text">{legend}</legend>
      {choices.map((choice) => (
        <label key={choice.value}>
          <input type="radio" name={name} checked={choice.value === value} onChange={() => onChoice(choice.value)} />
          {choice.label}
        </label>
      ))}
    </fieldset>
  );
}
