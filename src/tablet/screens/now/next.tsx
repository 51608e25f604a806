import { nextHold } from '../../../../shared/logbook/state/holds.ts';
import type { OperationState } from '../../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Sign } from '../../parts/icons.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { nextStep, stepButton, stepHref, stepWords } from '../../shared-screens/next-work.ts';

type NextProps = { view: View; work: readonly OperationState[]; waits: boolean };

/** The one sheet that wants the hand. `waits`: another sheet wants it first. */
export function NextWork({ view, work, waits }: NextProps) {
  const next = work[0];
  if (!next) return <NothingOpen view={view} waits={waits} />;
  const { operation, progress } = next;
  const step = nextStep(view, next);
  return (
    <Sheet graduated={!waits} label="Next" class="now-next">
      <div class="now-words">
        <p class="small dim">
          next, operation <span class="n">{operation.id}</span>, {progress === 'ready' ? 'ready' : 'under way'}
        </p>
        <h2>{operation.name}</h2>
        <p class="now-step">{stepWords(step)}</p>
        <Cautions view={view} ids={operation.cautions} />
      </div>
      <a class={`button wide ${waits ? '' : 'main'}`} href={stepHref(operation.id, step)}>
        {stepButton(step)}
      </a>
    </Sheet>
  );
}

/** Its cautions in one line; the operation tells them in full. */
function Cautions({ view, ids }: { view: View; ids: readonly string[] }) {
  const names = ids.flatMap((id) => view.plan.cautions.find((c) => c.id === id)?.name ?? []);
  if (names.length === 0) return null;
  return (
    <p class="now-cautions small">
      <Sign sign="warning" />
      <span>
        Cautions: {names.join(', ')}. {view.plan.cautionClosing}
      </span>
    </p>
  );
}

/** No operation can be begun: the way is barred by a hold point, or the plan is done. */
function NothingOpen({ view, waits }: { view: View; waits: boolean }) {
  const hold = nextHold(view);
  if (!hold) {
    return (
      <Sheet graduated={!waits} label="Next" class="now-next">
        <div class="now-words">
          <h2>Nothing is left to do</h2>
          <p>Every operation is finished and every hold point is released. The record is whole.</p>
        </div>
        <a class={`button wide ${waits ? '' : 'main'}`} href="/record">
          Open the record
        </a>
      </Sheet>
    );
  }
  const { id, name } = hold.hold;
  return (
    <Sheet graduated={!waits} label="Next" class="now-next">
      <div class="now-words">
        <p class="small dim">next, hold point</p>
        <h2>
          {id} {name}
        </h2>
        <p class="now-step">
          {hold.missing.length === 0 ? 'Everything is met: it can be signed.' : missingWords(hold.missing.length)}
        </p>
        <p class="small dim">Work waits for its release.</p>
      </div>
      <a class={`button wide ${waits ? '' : 'main'}`} href={`/hold/${id}`}>
        Open {id}
      </a>
    </Sheet>
  );
}

const missingWords = (count: number): string => (count === 1 ? '1 thing is missing.' : `${count} things are missing.`);
