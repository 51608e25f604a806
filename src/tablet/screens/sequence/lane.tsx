import type { ComponentChildren } from 'preact';
import type { InTime } from '../../../../shared/logbook/state/schedule.ts';
import type { Scheduled } from '../../../../shared/plan/network/calendar-network.ts';
import { Gate, type GateState } from '../../parts/gate.tsx';
import { percent, type Tick, type Window } from './window.ts';

/** Of the lane's height: bars, their middle, and the plan's line under them. */
const BAR = { y: '21%', height: '30%' };
const MIDDLE = { y1: '36%', y2: '36%' };
const PLAN = { y1: '69%', y2: '69%' };
/** Percent of the lane: work of an hour must still be seen. */
const LEAST = 0.5;

export interface Paper {
  readonly shown: Window;
  readonly ticks: readonly Tick[];
  readonly now_ms: number;
}

/** One line of the chart: its grid, what is drawn on it, and now. */
export function Lane({
  paper,
  children,
  gates,
}: {
  paper: Paper;
  children?: ComponentChildren;
  gates?: ComponentChildren;
}) {
  const { shown, ticks, now_ms } = paper;
  const at = percent(now_ms, shown);
  return (
    <span class="lane">
      <svg width="100%" height="100%" aria-hidden="true">
        {ticks.map((t) => (
          <line key={t.at_ms} class="lane-grid" {...upright(percent(t.at_ms, shown))} />
        ))}
        {children}
        {at >= 0 && at <= 100 && <line class="lane-now" {...upright(at)} />}
      </svg>
      {gates}
    </span>
  );
}

const upright = (x: number) => ({ x1: `${x}%`, x2: `${x}%`, y1: '0', y2: '100%' });

/** The bar of an operation: plan, what was, what is forecast, and how far that may move. */
export function OperationBar({ paper, one }: { paper: Paper; one: InTime }) {
  const { forecast, planned, progress } = one;
  const known = progress === 'done' ? forecast.finish_ms : progress === 'under-way' ? paper.now_ms : null;
  return (
    <>
      {planned && <Planned paper={paper} dates={planned} />}
      {progress !== 'done' && <Float paper={paper} dates={forecast} />}
      {progress !== 'done' && (
        <Box
          paper={paper}
          from={known ?? forecast.start_ms}
          to={forecast.finish_ms}
          kind="lane-ahead"
          critical={forecast.critical}
        />
      )}
      {known !== null && <Box paper={paper} from={forecast.start_ms} to={known} kind="lane-was" critical={false} />}
    </>
  );
}

interface BoxProps {
  readonly paper: Paper;
  readonly from: number;
  readonly to: number;
  readonly kind: 'lane-was' | 'lane-ahead';
  readonly critical: boolean;
}

/** What was is solid, what is forecast is open; on the critical chain a heavy line runs through it. */
export function Box({ paper, from, to, kind, critical }: BoxProps) {
  const { x, width } = cut(percent(from, paper.shown), percent(to, paper.shown));
  if (width <= 0) return null;
  return (
    <>
      <rect class={`${kind} ${critical ? 'lane-critical' : ''}`} x={`${x}%`} width={`${width}%`} {...BAR} />
      {critical && <line class="lane-chain" x1={`${x}%`} x2={`${x + width}%`} {...MIDDLE} />}
    </>
  );
}

/** The part of a span that the paper shows. */
function cut(from: number, to: number): { x: number; width: number } {
  if (to < 0 || from > 100) return { x: 0, width: 0 };
  const x = Math.max(-1, from);
  return { x, width: Math.max(LEAST, Math.min(101, to) - x) };
}

export function Planned({ paper, dates }: { paper: Paper; dates: Pick<Scheduled, 'start_ms' | 'finish_ms'> }) {
  const { x, width } = cut(percent(dates.start_ms, paper.shown), percent(dates.finish_ms, paper.shown));
  return width <= 0 ? null : <line class="lane-plan" x1={`${x}%`} x2={`${x + width}%`} {...PLAN} />;
}

function Float({ paper, dates }: { paper: Paper; dates: Scheduled }) {
  const { x, width } = cut(percent(dates.finish_ms, paper.shown), percent(dates.lateFinish_ms, paper.shown));
  if (width <= LEAST) return null;
  return (
    <>
      <line class="lane-float" x1={`${x}%`} x2={`${x + width}%`} {...MIDDLE} />
      <line class="lane-float-end" x1={`${x + width}%`} x2={`${x + width}%`} y1="26%" y2="46%" />
    </>
  );
}

/** A hold point at its date, drawn in its state. */
export function LaneGate({ paper, one, state }: { paper: Paper; one: InTime; state: GateState }) {
  const x = percent(one.forecast.finish_ms, paper.shown);
  if (x < 0 || x > 100) return null;
  return (
    <span class="lane-gate" style={{ left: `${x}%` }}>
      <Gate state={state} size={20} decorative />
    </span>
  );
}
