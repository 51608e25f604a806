import { leftUndone } from '../../../../shared/logbook/state/left-undone.ts';
import type { OperationState } from '../../../../shared/logbook/state/sequence.ts';
import { anyKind, type View } from '../../../../shared/logbook/state/view.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { SaidBy } from '../../shared-screens/said-by.tsx';
import { StrikeButton } from '../../shared-screens/strike-button.tsx';
import { missingLine } from './action-bar.tsx';

/** Who called the operation finished and when, and what was missing. */
export function FinishedSheet({ view, state }: { view: View; state: OperationState }) {
  if (!state.finished) return null;
  const finished = anyKind(state.finished);
  const { words } = state.finished.body;
  const missing = leftUndone(view, state.operation);
  return (
    <Sheet label="Finished">
      <div class="operation-finished">
        <div>
          <h2>Finished</h2>
          <SaidBy view={view} kept={finished} />
          {missing.length > 0 && <p class="small operation-flag">{missingLine(missing)}</p>}
        </div>
        <StrikeButton view={view} kept={finished} what="the finish" />
        {words && <p class="small dim">{words}</p>}
      </div>
    </Sheet>
  );
}
