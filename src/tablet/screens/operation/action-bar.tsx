import { useState } from 'preact/hooks';
import { leftUndone } from '../../../../shared/logbook/state/left-undone.ts';
import { firstWork, type OperationState } from '../../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { finishOperation, startOperation } from '../../acts/operations.ts';
import { wasKept } from '../../app/was-kept.ts';
import { someone } from '../../app/who.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { nextStep, stepHref } from '../../shared-screens/next-work.ts';
import { FinishSheet } from './finish-sheet.tsx';
import type { Answers } from './use-answers.ts';

interface Props {
  readonly view: View;
  readonly state: OperationState;
  readonly saving: Answers;
}

/** The one thing to do next on an operation: save what was filled in, or call it finished. */
export function ActionBar(props: Props) {
  const { state, saving } = props;
  if (saving.count > 0) return <SaveAnswers saving={saving} />;
  return state.finished ? <Finished /> : <Finish {...props} />;
}

function SaveAnswers({ saving: { count, problem, save } }: { saving: Answers }) {
  return (
    <Sheet graduated label="Save" class="operation-bar">
      <p class="small">
        {problem ? problem.words : count === 1 ? '1 answer is not saved yet.' : `${count} answers are not saved yet.`}
      </p>
      <button type="button" class="button main wide" onClick={() => void save()}>
        Save {count} {count === 1 ? 'answer' : 'answers'}
      </button>
    </Sheet>
  );
}

function Finish({ view, state }: Props) {
  const [asking, ask] = useState(false);
  const { operation } = state;
  const missing = leftUndone(view, operation);
  const begun = firstWork(view, operation.id) !== null;
  const step = nextStep(view, state);
  const start = async () => {
    if (await someone()) await wasKept(startOperation(operation.id));
  };
  const finish = async () => {
    const who = await someone();
    if (!who) return;
    if (missing.length === 0 && who.roles.includes('crew-lead')) await wasKept(finishOperation(operation.id));
    else ask(true);
  };
  return (
    <Sheet graduated label="Finish" class="operation-bar">
      <p class="small">
        {missing.length === 0 ? 'Nothing is missing. A crew lead calls it finished.' : missingLine(missing)}
      </p>
      <div class="buttons">
        {!begun && (
          <button type="button" class={`button ${missing.length > 0 ? 'main' : ''}`} onClick={() => void start()}>
            Start operation
          </button>
        )}
        {begun && step.kind === 'measure' && (
          <a class="button main" href={stepHref(operation.id, step)}>
            Measure
          </a>
        )}
        <button
          type="button"
          class={`button operation-finish ${missing.length > 0 ? 'missing' : 'main'}`}
          onClick={() => void finish()}
        >
          Operation finished
        </button>
      </div>
      {asking && <FinishSheet operation={operation} missing={missing} onClose={() => ask(false)} />}
    </Sheet>
  );
}

export const missingLine = (missing: readonly string[]): string =>
  missing.length === 1 ? `1 thing is missing: ${missing[0]}.` : `${missing.length} things are missing.`;

function Finished() {
  return (
    <Sheet graduated label="Next" class="operation-bar">
      <a class="button main wide" href="/">
        What is next
      </a>
    </Sheet>
  );
}
