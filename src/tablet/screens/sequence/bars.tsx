import { useState } from 'preact/hooks';
import { holdState } from '../../../../shared/logbook/state/holds.ts';
import type { InTime, Schedule } from '../../../../shared/logbook/state/schedule.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { operationById } from '../../../../shared/plan/lookup.ts';
import type { Hold } from '../../../../shared/plan/schema.ts';
import { gateState } from '../../app/gate-state.ts';
import { Filter } from '../../parts/filter.tsx';
import { gateWord } from '../../parts/gate.tsx';
import { Sign } from '../../parts/icons.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { datesWords, holdDateWords, holdStandingWords, slipWords, standingWords } from './in-time-words.ts';
import { Box, Lane, LaneGate, OperationBar, type Paper, Planned } from './lane.tsx';
import { BarsLegend } from './legend.tsx';
import { percent, ticksOf, windowOf, type Zoom } from './window.ts';

interface Props {
  readonly view: View;
  readonly schedule: Schedule;
  readonly now_ms: number;
  /** The operation that wants the hand. */
  readonly current: string | null;
}

const ZOOMS = [
  { value: 'whole', label: 'Whole' },
  { value: 'months', label: '12 weeks' },
  { value: 'weeks', label: '3 weeks' },
] as const;

/** A margin at both ends of the whole. */
const MARGIN = 0.015;

/** The sequence in time: a line for each stage, unfolded into its operations and hold points. */
export function Bars({ view, schedule, now_ms, current }: Props) {
  const [zoom, setZoom] = useState<Zoom>('whole');
  const [steps, setSteps] = useState(0);
  const stageNow = current === null ? null : (operationById(view.plan, current)?.stage ?? null);
  const [open, setOpen] = useState<ReadonlySet<string>>(new Set(stageNow === null ? [] : [stageNow]));
  const { timeZone } = view.genesis;
  const whole = wholeOf(schedule, now_ms);
  const shown = windowOf(zoom, steps, whole, now_ms);
  const paper: Paper = { shown, ticks: ticksOf(zoom, shown, timeZone), now_ms };
  const toggle = (stage: string) => {
    const next = new Set(open);
    if (!next.delete(stage)) next.add(stage);
    setOpen(next);
  };
  return (
    <Sheet class="bars" label="The sequence in time">
      <div class="bars-head no-print">
        <Filter
          legend="How much time the chart shows"
          choices={ZOOMS}
          value={zoom}
          onChoice={(value) => {
            setZoom(value);
            setSteps(0);
          }}
        />
        {zoom !== 'whole' && (
          <div class="buttons">
            <button type="button" class="button" onClick={() => setSteps(steps - 1)}>
              Earlier
            </button>
            <button type="button" class="button" onClick={() => setSteps(steps + 1)}>
              Later
            </button>
          </div>
        )}
        <button type="button" class="button bars-print" onClick={() => window.print()}>
          Print
        </button>
      </div>
      <BarsLegend />
      <Axis paper={paper} />
      <ol class="bars-rows">
        {view.plan.stages.map((stage) => (
          <StageLines
            key={stage.id}
            view={view}
            schedule={schedule}
            stage={stage}
            paper={paper}
            current={current}
            unfolded={open.has(stage.id)}
            onToggle={() => toggle(stage.id)}
          />
        ))}
      </ol>
    </Sheet>
  );
}

function wholeOf({ start_ms, plannedFinish_ms, finish_ms }: Schedule, now_ms: number) {
  const first = Math.min(start_ms, now_ms);
  const last = Math.max(plannedFinish_ms, finish_ms, now_ms);
  const margin = MARGIN * (last - first);
  return { from_ms: first - margin, to_ms: last + margin };
}

function Axis({ paper }: { paper: Paper }) {
  const at = percent(paper.now_ms, paper.shown);
  return (
    <div class="bar-line bars-axis" aria-hidden="true">
      <span class="bar-name" />
      <span class="bars-ticks">
        {paper.ticks
          .filter((t) => t.label !== '' && percent(t.at_ms, paper.shown) < 96)
          .map((t) => (
            <span key={t.at_ms} style={{ left: `${percent(t.at_ms, paper.shown)}%` }}>
              {t.label}
            </span>
          ))}
        {at >= 0 && at <= 100 && (
          <span class="bars-now" style={{ left: `${at}%` }}>
            now
          </span>
        )}
      </span>
      <span class="bar-words" />
    </div>
  );
}

interface StageProps {
  readonly view: View;
  readonly schedule: Schedule;
  readonly stage: { readonly id: string; readonly name: string };
  readonly paper: Paper;
  readonly current: string | null;
  readonly unfolded: boolean;
  readonly onToggle: () => void;
}

function StageLines({ view, schedule, stage, paper, current, unfolded, onToggle }: StageProps) {
  const ids = view.plan.operations.filter((o) => o.stage === stage.id).map((o) => o.id);
  const ones = schedule.operations.filter((one) => ids.includes(one.id));
  if (ones.length === 0) return null;
  const holds = view.plan.holds.filter((hold) => ids.includes(hold.after));
  const lines = ids.flatMap((id) => [
    <OperationLine key={id} view={view} one={ones.find((o) => o.id === id)!} paper={paper} current={id === current} />,
    ...holds
      .filter((hold) => hold.after === id)
      .map((hold) => <HoldLine key={hold.id} view={view} hold={hold} schedule={schedule} paper={paper} />),
  ]);
  return (
    <li>
      <button type="button" class="bar-line bar-stage" aria-expanded={unfolded} onClick={onToggle}>
        <span class="bar-name">
          <Sign sign={unfolded ? 'more' : 'next'} size={16} />
          <b>
            {stage.id} {stage.name}
          </b>
        </span>
        <StageLane view={view} ones={ones} holds={holds} schedule={schedule} paper={paper} />
        <span class="bar-words small dim">{stageWords(ones)}</span>
      </button>
      <ol class={`bar-operations ${unfolded ? '' : 'bar-folded'}`}>{lines}</ol>
    </li>
  );
}

/** A stage from its first start to its last finish. */
function StageLane(props: Pick<StageProps, 'view' | 'schedule' | 'paper'> & { ones: InTime[]; holds: Hold[] }) {
  const { view, ones, holds, schedule, paper } = props;
  const planned = ones.flatMap((o) => (o.planned ? [o.planned] : []));
  const begun = ones.filter((o) => o.progress !== 'ahead').map((o) => o.forecast.start_ms);
  const finish = Math.max(...ones.map((o) => o.forecast.finish_ms));
  const done = ones.every((o) => o.progress === 'done');
  const was = done ? finish : begun.length > 0 ? Math.min(paper.now_ms, finish) : null;
  const start = Math.min(...ones.map((o) => o.forecast.start_ms));
  return (
    <Lane
      paper={paper}
      gates={holds.map((hold) => (
        <LaneGate
          key={hold.id}
          paper={paper}
          one={schedule.holds.find((h) => h.id === hold.id)!}
          state={gateState(view, holdState(view, hold))}
        />
      ))}
    >
      {planned.length > 0 && (
        <Planned
          paper={paper}
          dates={{
            start_ms: Math.min(...planned.map((p) => p.start_ms)),
            finish_ms: Math.max(...planned.map((p) => p.finish_ms)),
          }}
        />
      )}
      {!done && (
        <Box
          paper={paper}
          from={was ?? start}
          to={finish}
          kind="lane-ahead"
          critical={ones.some((o) => o.forecast.critical)}
        />
      )}
      {was !== null && <Box paper={paper} from={start} to={was} kind="lane-was" critical={false} />}
    </Lane>
  );
}

/** How the last finish of a stage stands to the plan's. */
function stageWords(ones: readonly InTime[]): string {
  const planned = ones.flatMap((o) => (o.planned ? [o.planned.finish_ms] : []));
  if (planned.length === 0) return 'not in the first plan';
  const slip = slipWords(Math.max(...ones.map((o) => o.forecast.finish_ms)) - Math.max(...planned));
  const done = ones.every((o) => o.progress === 'done');
  return done ? `finished, ${slip}` : `${slip}${ones.some((o) => o.forecast.critical) ? ', critical' : ''}`;
}

interface LineProps {
  readonly view: View;
  readonly one: InTime;
  readonly paper: Paper;
  readonly current: boolean;
}

function OperationLine({ view, one, paper, current }: LineProps) {
  const name = operationById(view.plan, one.id)?.name ?? '';
  return (
    <li>
      <a class="bar-line" href={`/sequence/${one.id}`} aria-current={current ? 'step' : undefined}>
        <span class="bar-name">
          <span class="n">{one.id}</span>
          <span>
            {name}
            <span class="second note">{datesWords(one, view.genesis.timeZone)}</span>
          </span>
        </span>
        <Lane paper={paper}>
          <OperationBar paper={paper} one={one} />
        </Lane>
        <span class="bar-words small dim">{standingWords(one)}</span>
      </a>
    </li>
  );
}

function HoldLine({ view, hold, schedule, paper }: Pick<StageProps, 'view' | 'schedule' | 'paper'> & { hold: Hold }) {
  const one = schedule.holds.find((h) => h.id === hold.id)!;
  const state = gateState(view, holdState(view, hold));
  return (
    <li>
      <a class="bar-line bar-hold" href={`/hold/${hold.id}`}>
        <span class="bar-name">
          <span class="n">{hold.id}</span>
          <span>
            {hold.name}
            <span class="second note">
              {gateWord(state)}, {holdDateWords(one, view.genesis.timeZone)}
            </span>
          </span>
        </span>
        <Lane paper={paper} gates={<LaneGate paper={paper} one={one} state={state} />} />
        <span class="bar-words small dim">{holdStandingWords(one, state)}</span>
      </a>
    </li>
  );
}
