import { gatesOf, type OperationState } from '../../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Operation } from '../../../../shared/plan/schema.ts';
import { Sign } from '../../parts/icons.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { gateReason, gateWords, linkWords, whyWait } from '../../shared-screens/order-words.ts';
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
      <Order view={view} operation={operation} />
      {witnesses.map((w) => (
        <p key={w.id} class="operation-line small">
          <span>
            Witness point {w.id}, {w.name}: told {w.toldAhead}; {w.mayAttend} may attend. If absent: {w.ifAbsent}
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
              <span class="grow">
                {waitWords(view, wait)}
                <span class="second small dim">{whyWait(view, state.operation, wait)}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** The rules of the order, each with its reason; they flag and never keep anybody from recording. */
function Order({ view, operation }: { view: View; operation: Operation }) {
  const gates = gatesOf(view, operation.id);
  const rules = [
    ...operation.after.map((link) => ({ words: linkWords(view, link), why: link.why })),
    ...gates.map((hold) => ({ words: gateWords(hold), why: gateReason(hold) })),
  ];
  return (
    <details class="fold">
      <summary>
        <b>What comes before it, and why</b>
      </summary>
      {rules.length === 0 ? (
        <p class="pad small">It is the first of the plan: nothing comes before it.</p>
      ) : (
        <dl class="operation-cautions">
          {rules.map(({ words, why }) => (
            <div key={words}>
              <dt>It {words}.</dt>
              <dd>{why ?? 'The plan gives no reason.'}</dd>
            </div>
          ))}
        </dl>
      )}
    </details>
  );
}
