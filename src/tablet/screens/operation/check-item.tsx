import type { Answer, Body } from '../../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../../shared/logbook/log.ts';
import type { FilledLine } from '../../../../shared/logbook/state/filled-line.ts';
import { anyKind, type View } from '../../../../shared/logbook/state/view.ts';
import type { Change } from '../../acts/sheet-entries.ts';
import { Filter } from '../../parts/filter.tsx';
import { YesNoRow } from '../../parts/yes-no-row.tsx';
import { SaidBy } from '../../shared-screens/said-by.tsx';
import type { FilledItem } from './sheet-draft.ts';
import { wordsId } from './use-answers.ts';

interface Saved {
  readonly answer: Body<'sheet'>['answers'][number];
  readonly entry: Kept<'sheet'>;
}

interface Props {
  readonly view: View;
  readonly number: string;
  readonly check: { readonly id: string; readonly text: string };
  readonly saved: readonly Saved[];
  /** What fills it station by station; null while that is not whole. */
  readonly byStations: FilledLine | null;
  readonly filled: FilledItem | undefined;
  /** What is asked about this answer before it is saved. */
  readonly asked: string | null;
  /** Null takes back what was filled in. */
  readonly onFill: (filled: FilledItem | null) => void;
}

/** One item: as it was saved, or to be answered. */
export function CheckItem(props: Props) {
  const { saved, byStations, filled, check, number, onFill } = props;
  if ((saved.length > 0 || byStations) && !filled) return <SavedItem {...props} />;
  const answer = filled?.answer ?? null;
  return (
    <YesNoRow
      number={number}
      text={check.text}
      answer={answer}
      onAnswer={(next) => onFill({ words: '', ...filled, answer: next })}
    >
      {filled && (filled.change || answer === 'no' || answer === 'not-applicable') && (
        <Beside {...props} filled={filled} />
      )}
    </YesNoRow>
  );
}

/** The words to an answer, and why a saved one is answered again. */
function Beside({ check, filled, asked, onFill }: Props & { filled: FilledItem }) {
  const { answer, words, change } = filled;
  return (
    <div class="operation-beside">
      {change && (
        <div class="buttons">
          <Filter
            legend="Why it is answered again"
            choices={CHANGES}
            value={change}
            onChoice={(why) => onFill({ ...filled, change: why })}
          />
          <button type="button" class="button" onClick={() => onFill(null)}>
            Leave it
          </button>
        </div>
      )}
      {answer !== null && (answer !== 'yes' || change) && (
        <label class="labelled">
          <span>{ASKING[answer]}</span>
          <input
            id={wordsId(check.id)}
            class="input"
            value={words}
            maxLength={2000}
            onInput={(event) => onFill({ ...filled, words: event.currentTarget.value })}
          />
        </label>
      )}
      {asked && (
        <p class="operation-asked" role="alert">
          {asked}
        </p>
      )}
    </div>
  );
}

const CHANGES: readonly { value: Change; label: string }[] = [
  { value: 'mistyped', label: 'mistyped' },
  { value: 'checked again', label: 'checked again' },
];

const ASKING: { readonly [A in Answer]: string } = {
  yes: 'Words (optional)',
  no: 'What is not so?',
  'not-applicable': 'Why not applicable? (optional)',
};

const ANSWER_WORDS: { readonly [A in Answer]: string } = { yes: 'yes', no: 'no', 'not-applicable': 'not applicable' };

/** An answer that stands, with who gave it and when. */
function SavedItem({ view, number, check, saved, byStations, onFill }: Props) {
  return (
    <div class="operation-saved">
      <span class="n yes-no-number">{number}</span>
      <div>
        <p>{check.text}</p>
        {saved.map(({ answer, entry }) => (
          <p key={entry.hash} class={`operation-answer ${answer.answer}`}>
            <b>{ANSWER_WORDS[answer.answer]}</b>
            {answer.words && <span>{answer.words}</span>}
            <SaidBy view={view} kept={anyKind(entry)} />
          </p>
        ))}
        {byStations && (
          <p class={`operation-answer ${byStations.answer}`}>
            <b>{ANSWER_WORDS[byStations.answer]}</b>
            <span>
              {byStations.of === 'answers' ? 'answered at all' : 'read at'} <span class="n">{byStations.stations}</span>{' '}
              stations
            </span>
            <SaidBy view={view} kept={byStations.by} />
          </p>
        )}
      </div>
      <button
        type="button"
        class="button"
        aria-label={`${saved.length > 0 ? 'Change' : 'Answer for the whole'}: ${check.text}`}
        onClick={() =>
          onFill({ answer: null, words: '', ...(saved.length > 0 ? { change: 'mistyped' as const } : {}) })
        }
      >
        {saved.length > 0 ? 'Change' : 'Answer'}
      </button>
    </div>
  );
}
