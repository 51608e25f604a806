import { type MeasureState, measureStates } from '../../../../shared/logbook/state/measures.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Operation } from '../../../../shared/plan/schema.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { measureHref } from '../../shared-screens/measure-href.ts';

/** What is measured in the operation, and how far it has come. */
export function MeasuresSheet({ view, operation }: { view: View; operation: Operation }) {
  const measures = measureStates(view, operation);
  if (measures.length === 0) return null;
  return (
    <Sheet title="To measure">
      <ul class="rows" id="measure">
        {measures.map((state) => (
          <li key={state.characteristic.id}>
            <MeasureRow operation={operation.id} state={state} />
          </li>
        ))}
      </ul>
    </Sheet>
  );
}

function MeasureRow({ operation, state }: { operation: string; state: MeasureState }) {
  const { characteristic, done, needed, verdict } = state;
  return (
    <a class="row" href={measureHref(characteristic, operation)}>
      <span class="grow">
        <b>{characteristic.name}</b>
        <span class="second small dim">{whereWords(state)}</span>
      </span>
      {done > 0 && <span class="n">{needed === null ? done : `${done}/${needed}`}</span>}
      {done > 0 && verdict === null ? <span>recorded</span> : <VerdictMark verdict={verdict} />}
    </a>
  );
}

/** Where it is measured and how often, or what it is worked out from. */
function whereWords({ characteristic, needed, workedOut }: MeasureState): string {
  if (workedOut) return characteristic.derivedFrom?.words ?? 'worked out from other readings';
  const { all, words } = characteristic.sampling;
  const places =
    needed === null ? `at each ${characteristic.each}` : needed === 1 ? 'single value' : `${needed} stations`;
  return all ? places : `${places}, ${words}`;
}
