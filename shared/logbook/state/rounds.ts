import type { HeatPlan } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { type DueRound, type HeatRound, observed, statusAt } from './rounds-now.ts';
import { firstWork, mark, workOn } from './sequence.ts';
import { live } from './strikes.ts';
import { anyKind, type View } from './view.ts';

export { type DueRound, type HeatRound, type RoundStatus, type RoundsNow, roundsNow, statusAt } from './rounds-now.ts';

const HOUR_MS = 3_600_000;
/** In time within a tenth of the interval, and never less than five minutes either way. */
const IN_TIME_SHARE = 0.1;
const IN_TIME_LEAST_MS = 300_000;

/** One run through a heat plan. */
export interface Heat {
  readonly plan: HeatPlan;
  readonly start_ms: number;
  /** The entry that says when it began. */
  readonly start: Kept;
  /** When its last operation was called finished; null while it runs. */
  readonly ended_ms: number | null;
  /** When it ends by its plan. */
  readonly planEnds_ms: number;
  readonly rounds: readonly HeatRound[];
  /** Every live round of the heat, those beside the due times too, in the order in which they were walked. */
  readonly walked: readonly Kept<'round'>[];
}

/** Whether one of the named operations runs at an hour of the heat. */
type Runs = (operations: readonly string[], at_h: number) => boolean;

/**
 * The rounds that a heat plan asks for, from its start: one at each interval, the segment's own. Where a full and a
 * key round fall together the full one is walked.
 * @param runs for rounds that are due only while one of their operations runs; left out, all are.
 */
export function dueRounds(plan: HeatPlan, runs: Runs = () => true): DueRound[] {
  const due: Omit<DueRound, 'number'>[] = [];
  let start_h = 0;
  let from_C = plan.start_C;
  plan.segments.forEach((segment, index) => {
    const hours = segment.soak_h ?? Math.abs(segment.to_C - from_C) / segment.rate_K_h!;
    for (const { extent, every_h, operations } of segment.rounds) {
      // A round at a join belongs to the later segment.
      for (let n = 0; n * every_h < hours - 1e-9; n++) {
        const at_h = start_h + n * every_h;
        if (operations === undefined || runs(operations, at_h)) due.push({ at_h, segment: index + 1, extent, every_h });
      }
    }
    start_h += hours;
    from_C = segment.to_C;
  });
  const byExtent = (round: Omit<DueRound, 'number'>) => (round.extent === 'full' ? 0 : 1);
  const inOrder = due.sort((a, b) => seconds(a.at_h) - seconds(b.at_h) || byExtent(a) - byExtent(b));
  return inOrder
    .filter((round, i) => i === 0 || seconds(round.at_h) !== seconds(inOrder[i - 1]!.at_h))
    .map((round, i) => ({ number: i + 1, ...round }));
}

/** Due times are kept to the second. */
const seconds = (hours: number): number => Math.round(hours * 3600);

/** Elapsed hours of a heat plan. */
function hoursOf(plan: HeatPlan): number {
  let from_C = plan.start_C;
  return plan.segments.reduce((sum, { to_C, soak_h, rate_K_h }) => {
    const hours = soak_h ?? Math.abs(to_C - from_C) / rate_K_h!;
    from_C = to_C;
    return sum + hours;
  }, 0);
}

/** A heat as it was begun and walked, or null while nothing of it was recorded. */
export function heatOf(view: View, plan: HeatPlan): Heat | null {
  return view.memo.get(`heat/${plan.id}`, () => {
    const start = startOf(view, plan);
    if (!start) return null;
    const start_ms = Date.parse(start.entry.observedAt);
    const ended = mark(view, plan.operations.at(-1)!, 'finished');
    const walked = walkedRounds(view, plan);
    const runs: Runs = (operations, at_h) => operations.some((o) => runsAt(view, o, start_ms + at_h * HOUR_MS));
    const due = windows(dueByRevision(view, plan.id, start_ms, runs), start_ms);
    return {
      plan,
      start,
      start_ms,
      ended_ms: ended === null ? null : Date.parse(ended.entry.observedAt),
      planEnds_ms: start_ms + seconds(hoursOf(plan)) * 1000,
      rounds: assign(due, walked),
      walked,
    };
  });
}

/** A round was due by the plan that was in force at its time: a new interval makes no round missed that nobody asked for. */
function dueByRevision(view: View, heat: string, start_ms: number, runs: Runs): DueRound[] {
  const revisions = view.line.flatMap(({ plan, signed_ms }, i) => {
    const heatPlan = plan.heatPlans.find((p) => p.id === heat);
    const from_h = i === 0 ? -Infinity : (signed_ms - start_ms) / HOUR_MS;
    return heatPlan ? [{ heatPlan, from_h }] : [];
  });
  const asked = revisions.map(({ heatPlan, from_h }, i) => {
    const until_h = Math.min(...revisions.slice(i + 1).map((later) => later.from_h));
    return dueRounds(heatPlan, runs).filter(({ at_h }) => at_h >= from_h && at_h < until_h);
  });
  const segments = view.plan.heatPlans.find((p) => p.id === heat)?.segments.length ?? 1;
  return asked.flat().map((round, i) => ({ ...round, number: i + 1, segment: Math.min(round.segment, segments) }));
}

/**
 * What says when a heat began: a mark that names the heat; else the mark that its first operation was started; else
 * the first work on it.
 */
function startOf(view: View, plan: HeatPlan): Kept | null {
  const [first] = plan.operations;
  if (first === undefined) return null;
  const marks = plan.operations
    .flatMap((o) => live(view, `operation/${o}`, 'operation'))
    .filter((o) => o.body.mark === 'started' && o.body.heat === plan.id)
    .sort(byObserved);
  const started = marks[0] ?? mark(view, first, 'started');
  return started ? anyKind(started) : firstWork(view, first);
}

const byObserved = (a: Kept<'round'> | Kept<'operation'>, b: Kept<'round'> | Kept<'operation'>): number =>
  observed(a) - observed(b) || (a.hash < b.hash ? -1 : 1);

const walkedRounds = (view: View, plan: HeatPlan): Kept<'round'>[] =>
  plan.operations
    .flatMap((o) => live(view, `round/${o}`, 'round'))
    .filter((r) => r.body.heatPlan === plan.id)
    .sort(byObserved);

function runsAt(view: View, operation: string, at_ms: number): boolean {
  const begun = mark(view, operation, 'started')?.entry ?? firstWork(view, operation)?.entry;
  const finished = mark(view, operation, 'finished')?.entry;
  if (!begun || at_ms < Date.parse(begun.observedAt)) return false;
  return !finished || at_ms < Date.parse(finished.observedAt);
}

/** Sets the due rounds on the clock, each with the times between which it is in time, late and missed. */
function windows(due: readonly DueRound[], start_ms: number): Omit<HeatRound, 'written'>[] {
  const at = due.map((d) => start_ms + seconds(d.at_h) * 1000);
  return due.map((round, i) => {
    const slack = Math.max(IN_TIME_SHARE * round.every_h * HOUR_MS, IN_TIME_LEAST_MS);
    const due_ms = at[i]!;
    const before = i === 0 ? Infinity : (due_ms - at[i - 1]!) / 2;
    const missedFrom_ms = at[i + 1] ?? due_ms + round.every_h * HOUR_MS;
    return {
      ...round,
      due_ms,
      opens_ms: due_ms - Math.min(slack, before),
      lateFrom_ms: due_ms + Math.min(slack, (missedFrom_ms - due_ms) / 2),
      missedFrom_ms,
    };
  });
}

/** Gives each walked round to one due round: the one that it names, if it was walked in its time, else that of its time. */
function assign(due: readonly Omit<HeatRound, 'written'>[], walked: readonly Kept<'round'>[]): HeatRound[] {
  const taken = new Map<number, Kept<'round'>>();
  for (const round of walked) {
    const at_ms = observed(round);
    const fits = due.filter(
      (d) =>
        !taken.has(d.number) &&
        at_ms >= d.opens_ms &&
        at_ms < d.missedFrom_ms &&
        (d.extent === 'key' || round.body.extent === 'full'),
    );
    const named_ms = round.body.dueAt === null ? null : Date.parse(round.body.dueAt);
    const chosen = fits.find((d) => d.due_ms === named_ms) ?? fits.at(-1);
    if (chosen) taken.set(chosen.number, round);
  }
  return due.map((d) => ({ ...d, written: taken.get(d.number) ?? null }));
}

/** The due round that a round walked at an instant would be written for; null between them. */
export const roundForTime = (heat: Heat, at_ms: number, extent: 'full' | 'key'): HeatRound | null =>
  heat.rounds.findLast(
    (r) =>
      r.written === null &&
      at_ms >= r.opens_ms &&
      at_ms < r.missedFrom_ms &&
      (r.extent === 'key' || extent === 'full') &&
      (heat.ended_ms === null || r.due_ms <= heat.ended_ms),
  ) ?? null;

/** What notes on a due round are about. */
export const roundAbout = (heat: string, number: number): string => `round/${heat}/${number}`;

/** The heat that runs; else the one that ran last; null before the first. */
export function heatInWork(view: View): Heat | null {
  const heats = view.plan.heatPlans.flatMap((plan) => heatOf(view, plan) ?? []);
  const latest = (all: Heat[]) => all.sort((a, b) => a.start_ms - b.start_ms).at(-1) ?? null;
  return latest(heats.filter((h) => h.ended_ms === null)) ?? latest(heats);
}

/** What the log alone says of the rounds of a heat, whatever time it is now. */
export interface RoundsState {
  /** Of the whole heat plan. */
  readonly due: number;
  readonly recorded: number;
  /** Missed as far as the log goes. */
  readonly missed: readonly HeatRound[];
  /** Not written: missed, to come, or no longer due because the heat was ended. */
  readonly unwritten: readonly HeatRound[];
  readonly heat: Heat | null;
  /** The last that the log knows of the heat, ms. */
  readonly until_ms: number;
}

const NO_ROUNDS: RoundsState = { due: 0, recorded: 0, missed: [], unwritten: [], heat: null, until_ms: 0 };

/** Which due rounds of a heat have been written. */
export function roundsState(view: View, heatPlan: string): RoundsState {
  return view.memo.get(`rounds/${heatPlan}`, () => {
    const plan = view.plan.heatPlans.find((p) => p.id === heatPlan);
    const heat = plan ? heatOf(view, plan) : null;
    if (!heat) return NO_ROUNDS;
    const until_ms = Math.max(
      ...heat.plan.operations.flatMap((o) => workOn(view, o).map((k) => Date.parse(k.entry.observedAt))),
    );
    const unwritten = heat.rounds.filter((r) => r.written === null);
    return {
      due: heat.rounds.length,
      recorded: heat.rounds.length - unwritten.length,
      missed: unwritten.filter((r) => statusAt(heat, r, until_ms) === 'missed'),
      unwritten,
      heat,
      until_ms,
    };
  });
}

/** The longest time without a round that was kept, hours, from the start of a heat to an instant. */
export function greatestGap_h(heat: Heat, until_ms: number): number {
  const times = [heat.start_ms, ...heat.walked.map(observed).filter((t) => t <= until_ms), until_ms];
  return Math.max(...times.map((t, i) => (i === 0 ? 0 : t - times[i - 1]!))) / HOUR_MS;
}

/** The rounds missed one after another in one segment, as far as the log goes. */
export function missedRuns(state: RoundsState): HeatRound[][] {
  const runs: HeatRound[][] = [];
  for (const round of state.missed) {
    const run = runs.at(-1);
    const before = run?.at(-1);
    if (before && before.number === round.number - 1 && before.segment === round.segment) run!.push(round);
    else runs.push([round]);
  }
  return runs;
}
