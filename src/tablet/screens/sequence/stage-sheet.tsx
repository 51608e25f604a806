import { holdState } from '../../../../shared/logbook/state/holds.ts';
import { leftUndone } from '../../../../shared/logbook/state/left-undone.ts';
import type { InTime, Schedule } from '../../../../shared/logbook/state/schedule.ts';
import type { OperationState, Progress } from '../../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Hold } from '../../../../shared/plan/schema.ts';
import { gateState } from '../../app/gate-state.ts';
import { dayAndTime } from '../../app/time.ts';
import { ConditionMark } from '../../parts/condition-mark.tsx';
import { Gate, GateWord } from '../../parts/gate.tsx';
import { Sign } from '../../parts/icons.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { holdWords } from '../../shared-screens/next-work.ts';
import { waitWords } from '../../shared-screens/wait-words.ts';
import { datesWords, holdDateWords, holdStandingWords, standingWords } from './in-time-words.ts';

interface Props {
  readonly view: View;
  readonly stage: { readonly id: string; readonly name: string };
  readonly schedule: Schedule;
  readonly states: readonly OperationState[];
  /** Gates that are open stay with operations that are. */
  readonly openOnly: boolean;
  /** The operation that wants the hand. */
  readonly current: string | null;
}

/** One stage: its operations, each with the gates that follow it. */
export function StageSheet({ view, stage, schedule, states, openOnly, current }: Props) {
  const operations = view.plan.operations.filter((o) => o.stage === stage.id);
  const gates = view.plan.holds
    .filter((hold) => operations.some((o) => o.id === hold.after))
    .filter((hold) => !openOnly || holdState(view, hold).status !== 'released');
  if (states.length === 0 && gates.length === 0) return null;
  const rows = operations.flatMap(({ id }) => [
    ...states
      .filter((s) => s.operation.id === id)
      .map((s) => (
        <OperationRow
          key={id}
          view={view}
          state={s}
          inTime={inTime(schedule.operations, id)}
          current={id === current}
        />
      )),
    ...gates
      .filter((hold) => hold.after === id)
      .map((hold) => <GateRow key={hold.id} view={view} hold={hold} inTime={inTime(schedule.holds, hold.id)} />),
  ]);
  return (
    <Sheet title={`${stage.id} ${stage.name}`}>
      <ol class="rows">{rows}</ol>
    </Sheet>
  );
}

const inTime = (ones: readonly InTime[], id: string): InTime => ones.find((one) => one.id === id)!;

interface RowProps {
  readonly view: View;
  readonly state: OperationState;
  readonly inTime: InTime;
  readonly current: boolean;
}

function OperationRow({ view, state, inTime: one, current }: RowProps) {
  const { operation, progress } = state;
  return (
    <li>
      <a
        class={`row sequence-row ${progress}`}
        href={`/sequence/${operation.id}`}
        aria-current={current ? 'step' : undefined}
      >
        <span class="n sequence-id">{operation.id}</span>
        <span class="grow">
          <b>{operation.name}</b>
          <Second view={view} state={state} />
        </span>
        <span class="sequence-time small">
          {datesWords(one, view.genesis.timeZone)}
          <span class="second dim">{standingWords(one)}</span>
        </span>
        <span class="sequence-progress">
          <ProgressMark progress={progress} />
          {progressWords[progress]}
        </span>
      </a>
    </li>
  );
}

const progressWords: { readonly [P in Progress]: string } = {
  done: 'finished',
  'under-way': 'under way',
  ready: 'ready',
  blocked: 'waits',
};

function ProgressMark({ progress }: { progress: Progress }) {
  if (progress === 'under-way') return <Sign sign="next" size={20} />;
  return (
    <ConditionMark
      condition={progress === 'done' ? 'met' : progress === 'blocked' ? 'blocks' : 'not-yet'}
      size={22}
      decorative
    />
  );
}

/** The second line: when and by whom, what it waits for, how far its sheet is. */
function Second({ view, state }: { view: View; state: OperationState }) {
  const { operation, sheet, finished, waitsFor } = state;
  const witnesses = view.plan.witnesses.filter((w) => w.operations.includes(operation.id));
  return (
    <span class="sequence-second small dim">
      <span>{finished ? finishedWords(view, finished) : `sheet ${sheet.answered} of ${sheet.items.length}`}</span>
      {finished && leftUndone(view, operation).length > 0 && (
        <b class="sequence-flag">finished with something missing</b>
      )}
      {waitsFor.map((wait) => (
        <span key={`${wait.kind}${wait.id}`}>{waitWords(view, wait)}</span>
      ))}
      {witnesses.map((w) => (
        <span key={w.id}>
          witness point {w.id} {w.name}
        </span>
      ))}
    </span>
  );
}

function finishedWords(view: View, { entry }: NonNullable<OperationState['finished']>): string {
  const { dayOne, timeZone } = view.genesis;
  const name = view.standing.person(entry.by)?.name ?? 'somebody not admitted';
  return `${dayAndTime(entry.observedAt, dayOne, timeZone)}, by ${name}`;
}

/** A hold point between two operations. */
function GateRow({ view, hold, inTime: one }: { view: View; hold: Hold; inTime: InTime }) {
  const state = holdState(view, hold);
  const gate = gateState(view, state);
  return (
    <li>
      <a class="row sequence-gate" href={`/hold/${hold.id}`}>
        <Gate state={gate} size={48} decorative />
        <span class="grow">
          <b>
            {hold.id} {hold.name}
          </b>
          <span class="sequence-second small dim">
            hold point before {hold.before.join(', ') || 'delivery'}
            {gate !== 'released' && <span>{holdWords(state)}</span>}
          </span>
        </span>
        <span class="sequence-time small">
          {holdDateWords(one, view.genesis.timeZone)}
          <span class="second dim">{holdStandingWords(one, gate)}</span>
        </span>
        <GateWord state={gate} />
      </a>
    </li>
  );
}
