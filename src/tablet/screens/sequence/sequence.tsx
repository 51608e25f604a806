import { useEffect, useState } from 'preact/hooks';
import type { OperationState } from '../../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { Filter } from '../../parts/filter.tsx';
import { openWork, operationStates } from '../../shared-screens/next-work.ts';
import { plannedBars } from './planned-bars.ts';
import { StageSheet } from './stage-sheet.tsx';
import './sequence.css';

type Shown = 'all' | 'open';

const FILTERS = [
  { value: 'all', label: 'All operations' },
  { value: 'open', label: 'What is open' },
] as const;

/** Every operation in its order, with the hold points as gates between them. */
export function Sequence() {
  const v = view.value;
  const [shown, show] = useState<Shown>('all');
  useEffect(() => {
    document.querySelector('.sequence [aria-current]')?.scrollIntoView({ block: 'center' });
  }, [shown]);
  if (!v) return null;
  const states = operationStates(v);
  const finished = states.filter((s) => s.progress === 'done').length;
  const current = openWork(v)[0]?.operation.id ?? null;
  return (
    <Screen
      place="sequence"
      name="Sequence"
      detail={`${finished} of ${states.length} operations finished`}
      work="sequence"
    >
      <div class="sequence-head">
        <Filter legend="Which operations" choices={FILTERS} value={shown} onChoice={show} />
        <Scale view={v} />
      </div>
      {v.plan.stages.map((stage) => (
        <StageSheet
          key={stage.id}
          view={v}
          stage={stage}
          states={states.filter((s) => s.operation.stage === stage.id && (shown === 'all' || isOpen(s)))}
          openOnly={shown === 'open'}
          current={current}
        />
      ))}
    </Screen>
  );
}

const isOpen = (state: OperationState): boolean => state.progress !== 'done';

/** What the bars are measured in. */
function Scale({ view: v }: { view: View }) {
  return (
    <p class="sequence-scale small dim">
      bars: planned days, 0 to <span class="n">{Math.round(plannedBars(v).days)}</span>
    </p>
  );
}
