import type { OperationState } from '../../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Sign } from '../../parts/icons.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { waitHref, waitWords } from '../../shared-screens/wait-words.ts';

/** What the operation is for, its cautions, and what it should wait for. */
export function HeadSheet({ view, state }: { view: View; state: OperationState }) {
  const { operation } = state;
  const witnesses = view.plan.witnesses.filter((w) => w.operations.includes(operation.id));
  return (
    <Sheet title={operation.name} beside={operation.id}>
      <p class="pad">{operation.purpose}</p>
      <Cautions view={view} ids={operation.cautions} />
      {state.waitsFor.length > 0 && <Waits view={view} state={state} />}
      {witnesses.map((w) => (
        <p key={w.id} class="operation-line small">
          <span>
            Witness point {w.id}, {w.name}: told {w.toldAhead}; {w.mayAttend} may attend. If absent: {w.ifAbsent}.
          </span>
        </p>
      ))}
    </Sheet>
  );
}

/** Named in the line, in full when unfolded; the closing sentence always stands. */
function Cautions({ view, ids }: { view: View; ids: readonly string[] }) {
  const cautions = view.plan.cautions.filter((c) => ids.includes(c.id));
  if (cautions.length === 0) return null;
  return (
    <details class="fold">
      <summary>
        <Sign sign="warning" />
        <span>
          <b>Cautions: {cautions.map((c) => c.name.toLowerCase()).join(', ')}</b>
          <span class="small dim"> {view.plan.cautionClosing}</span>
        </span>
      </summary>
      <dl class="operation-cautions">
        {cautions.map((c) => (
          <div key={c.id}>
            <dt>{c.name}</dt>
            <dd>{c.text}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}

function Waits({ view, state }: { view: View; state: OperationState }) {
  return (
    <div class="operation-waits">
      <p>
        <b>{state.progress === 'blocked' ? 'It should wait.' : 'It was begun early.'}</b> What is recorded now is kept
        and flagged.
      </p>
      <ul>
        {state.waitsFor.map((wait) => (
          <li key={`${wait.kind}${wait.id}`}>
            <a class="row" href={waitHref(wait)}>
              {waitWords(view, wait)}
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}
