import { Gate, type GateState, gateWord } from './gate.tsx';
import './spine.css';

/** One stage of the sequence as it stands on the spine. */
export type Stage = {
  /** Short: "Tub survey". */
  name: string;
  /** Operations in it, and how many are finished. */
  operations: number;
  done: number;
  /** Operations finished although a hold point before them is open: the bar goes on, hatched. */
  ahead?: number | undefined;
  /** Hold points and where they stand: 0 the stage's start, 1 its end. */
  gates?: { at: number; state: GateState; name: string }[] | undefined;
};

export type SpineProps = {
  stages: Stage[];
  /** Which stage is worked in, counted from 0; null before the first and after the last. */
  now: number | null;
  href: string;
};

/** The steel rule: stages as long marks, operations as short ones, done as an ink bar, hold points as gates. */
export function Spine({ stages, now, href }: SpineProps) {
  return (
    <nav class="spine-place" aria-label="Sequence">
      <a class="spine" href={href}>
        <span class="hidden-text">{spineWords({ stages, now })}</span>
        {stages.map((stage, i) => (
          <SpineStage key={stage.name} stage={stage} now={i === now} near={now !== null && i === now + 1} />
        ))}
      </a>
    </nav>
  );
}

const share = (part: number, whole: number): string => `${whole > 0 ? Math.min(100, (100 * part) / whole) : 0}%`;

function SpineStage({ stage, now, near }: { stage: Stage; now: boolean; near: boolean }) {
  const { operations, done, ahead = 0, gates = [] } = stage;
  const ends = gates.some(({ at }) => at >= 1);
  const full = operations > 0 && done >= operations;
  const classes = ['stage', now && 'stage-now', near && 'stage-near', full && 'stage-done', ends && 'stage-gated']
    .filter(Boolean)
    .join(' ');
  // The index stands under the operation that is being worked on: in the middle of its division.
  const index = share(Math.min(done + 0.5, operations), operations);
  return (
    <span class={classes} style={{ '--operations': Math.max(1, operations) }} aria-hidden="true">
      <span class="stage-bar" style={{ width: share(done, operations) }} />
      {ahead > 0 && (
        <span class="stage-ahead" style={{ left: share(done, operations), width: share(ahead, operations) }} />
      )}
      {gates.map((gate) => (
        <span key={gate.name} class="stage-gate" style={{ left: `${gate.at * 100}%` }}>
          <Gate state={gate.state} size={20} decorative />
        </span>
      ))}
      {now && <span class="stage-index" style={{ left: index }} />}
      <span class="stage-name">{stage.name}</span>
    </span>
  );
}

/** What a screen reader says for the spine: where the work is and which hold point comes next. */
export function spineWords({ stages, now }: Pick<SpineProps, 'stages' | 'now'>): string {
  const stage = now === null ? undefined : stages[now];
  const where = stage
    ? `stage ${now! + 1} of ${stages.length}, ${stage.name}, ${stage.done} of ${stage.operations} operations finished`
    : `${stages.length} stages`;
  const gates = stages.flatMap(({ gates = [] }) => gates);
  const doubt = gates.filter(({ state }) => state === 'in-doubt').map(({ name }) => `; ${name} in doubt`);
  const next = gates.find(({ state }) => state !== 'released' && state !== 'in-doubt');
  return `${where[0]!.toUpperCase()}${where.slice(1)}${doubt.join('')}${next ? `; next hold point ${next.name}, ${gateWord(next.state)}` : ''}`;
}
