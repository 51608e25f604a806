import { faultWords } from '../../../../shared/logbook/faults.ts';
import type { HoldState } from '../../../../shared/logbook/state/holds.ts';
import { uncountedAt } from '../../../../shared/logbook/state/uncounted.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { entryWords, kindName } from '../../shared-screens/entry-words.ts';
import { SaidBy } from '../../shared-screens/said-by.tsx';

const MOST = 6;

/** What was written for this hold point and certifies nothing, each with its reason. */
export function UncountedSheet({ view, state }: { view: View; state: HoldState }) {
  const found = uncountedAt(view, state.hold);
  if (found.length === 0) return null;
  return (
    <Sheet title="Kept, and not counted" aside={found.length} class="hold-uncounted">
      <ul class="rows">
        {found.slice(0, MOST).map(({ kept, fault }) => (
          <li key={kept.hash}>
            <a class="row" href={`/record/${kept.hash}`}>
              <span class="grow">
                <b>{kindName(kept.entry.kind)}</b> {entryWords(view, kept)}
                <SaidBy view={view} kept={kept} />
                <span class="second outside">{faultWords[fault]}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
      {found.length > MOST && <p class="note hold-pad">and {found.length - MOST} more; the record has them all</p>}
    </Sheet>
  );
}
