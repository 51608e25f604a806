import { Fragment } from 'preact';
import type { Kept } from '../../../../shared/logbook/log.ts';
import type { OperationState } from '../../../../shared/logbook/state/sequence.ts';
import { anyKind, type View } from '../../../../shared/logbook/state/view.ts';
import type { Draft } from '../../app/use-draft.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { SaidBy } from '../../shared-screens/said-by.tsx';
import { StrikeButton } from '../../shared-screens/strike-button.tsx';
import { CheckItem } from './check-item.tsx';
import { ItemPhotos } from './item-photos.tsx';
import { entriesOfPart, type FilledItem, type SheetDraft, savedOf } from './sheet-draft.ts';
import type { Answers } from './use-answers.ts';
import { WhoSaw } from './who-saw.tsx';

interface Props {
  readonly view: View;
  readonly state: OperationState;
  readonly draft: Draft<SheetDraft>;
  readonly saving: Answers;
}

/** The check sheet: what was answered, by whom and when, and what is still to answer. */
export function CheckSheet({ view, state, draft, saving }: Props) {
  const { operation } = state;
  const { value, ready } = draft;
  const entries = entriesOfPart(state.sheet.entries, value.part);
  const filledBy = new Map(state.sheet.items.map((i) => [i.item, i.filled]));
  const answered = operation.checks.filter(
    (check) => savedOf(entries, check.id).length > 0 || (filledBy.get(check.id) ?? null) !== null,
  ).length;
  const fill = (item: string, filled: FilledItem | null) => {
    const { [item]: _, ...others } = value.answers;
    draft.change({ answers: filled ? { ...others, [item]: filled } : others });
  };
  return (
    <div id="sheet">
      <Sheet title="Check sheet" aside={`${answered} of ${operation.checks.length} answered`}>
        {operation.sheetPer !== 'operation' && <Part view={view} state={state} draft={draft} />}
        {ready &&
          operation.checks.map((check, index) => (
            <Fragment key={check.id}>
              <CheckItem
                view={view}
                number={`${index + 1}`}
                check={check}
                saved={savedOf(entries, check.id)}
                byStations={filledBy.get(check.id) ?? null}
                filled={value.answers[check.id]}
                asked={
                  saving.problem?.at === 'words' && saving.problem.items.includes(check.id)
                    ? saving.problem.words
                    : null
                }
                onFill={(filled) => fill(check.id, filled)}
              />
              <ItemPhotos
                view={view}
                operation={operation.id}
                check={check}
                asked={value.answers[check.id]?.answer === 'no'}
              />
            </Fragment>
          ))}
        <Saved view={view} entries={entries} />
        {ready && (
          <WhoSaw
            view={view}
            draft={value}
            change={draft.change}
            fault={saving.problem?.at === 'seen' ? saving.problem.words : null}
          />
        )}
      </Sheet>
    </div>
  );
}

/** The entries that the answers came in, each of which can be struck. */
function Saved({ view, entries }: { view: View; entries: readonly Kept<'sheet'>[] }) {
  if (entries.length === 0) return null;
  return (
    <details class="fold">
      <summary>
        <span>Saved in {entries.length === 1 ? '1 entry' : `${entries.length} entries`}</span>
      </summary>
      <ul class="rows">
        {entries.map((entry) => (
          <li key={entry.hash}>
            <p class="grow">
              {answersWords(entry)}
              <SaidBy view={view} kept={anyKind(entry)} />
            </p>
            <StrikeButton view={view} kept={anyKind(entry)} what={`the entry of ${answersWords(entry)}`} />
          </li>
        ))}
      </ul>
    </details>
  );
}

const answersWords = ({ body }: Kept<'sheet'>): string =>
  body.answers.length === 1 ? '1 answer' : `${body.answers.length} answers`;

/** Which lot, crate, shift or day, where there is a sheet for each. */
function Part({ state, draft }: Pick<Props, 'view' | 'state' | 'draft'>) {
  const known = [...new Set(state.sheet.entries.flatMap((e) => e.body.part ?? []))];
  return (
    <div class="operation-part">
      <label class="labelled">
        <span>Which {state.operation.sheetPer} (there is a sheet for each)</span>
        <input
          class="input"
          list="parts"
          maxLength={80}
          value={draft.value.part}
          onInput={(event) => draft.change({ part: event.currentTarget.value.trimStart() })}
        />
      </label>
      <datalist id="parts">
        {known.map((part) => (
          <option key={part} value={part} />
        ))}
      </datalist>
    </div>
  );
}
