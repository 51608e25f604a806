import { useEffect, useState } from 'preact/hooks';
import type { OperationState } from '../../../../shared/logbook/state/sequence.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { Filter } from '../../parts/filter.tsx';
import { openWork, operationStates } from '../../shared-screens/next-work.ts';
import { Bars } from './bars.tsx';
import { FinishSheet } from './finish-sheet.tsx';
import { StageSheet } from './stage-sheet.tsx';
import { useSchedule } from './use-schedule.ts';
import './bars.css';
import './sequence.css';

const WAYS = [
  { value: 'bars', label: 'Bars' },
  { value: 'all', label: 'List' },
  { value: 'open', label: 'What is open' },
] as const;
type Way = (typeof WAYS)[number]['value'];

/** The way to look at it that the address names, e.g. `?as=all`. */
const asked = (): Way => WAYS.find((w) => w.value === new URLSearchParams(location.search).get('as'))?.value ?? 'bars';

/** Every operation in its order, with the hold points as gates between them: as bars in time, or as a list. */
export function Sequence() {
  return view.value && <Shown key="sequence" view={view.value} />;
}

function Shown({ view: v }: { view: NonNullable<typeof view.value> }) {
  const [way, setWay] = useState<Way>(asked);
  const { schedule, now_ms } = useSchedule(v);
  useEffect(() => {
    if (way !== 'bars') document.querySelector('.sequence [aria-current]')?.scrollIntoView({ block: 'center' });
  }, [way]);
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
        <FinishSheet view={v} schedule={schedule} />
        <a class="button no-print" href="/plan">
          Plan revision {v.plan.revision}
          {v.heads.length > 1 && `; ${v.heads.length} wait to be joined`}
        </a>
        <div class="no-print">
          <Filter legend="How it is shown" choices={WAYS} value={way} onChoice={setWay} />
        </div>
      </div>
      {way === 'bars' ? (
        <Bars view={v} schedule={schedule} now_ms={now_ms} current={current} />
      ) : (
        v.plan.stages.map((stage) => (
          <StageSheet
            key={stage.id}
            view={v}
            stage={stage}
            schedule={schedule}
            states={states.filter((s) => s.operation.stage === stage.id && (way === 'all' || isOpen(s)))}
            openOnly={way === 'open'}
            current={current}
          />
        ))
      )}
    </Screen>
  );
}

const isOpen = (state: OperationState): boolean => state.progress !== 'done';
