import type { Kept } from '../log.ts';

export interface DueRound {
  /** Counted from 1 over the whole heat, as crews say it. */
  readonly number: number;
  /** Elapsed hours from the start of the heat: a local clock that is put forward or back changes nothing. */
  readonly at_h: number;
  /** Counted from 1. */
  readonly segment: number;
  readonly extent: 'full' | 'key';
  readonly every_h: number;
}

/** A due round of a heat that was begun, with the round that was written for it. All instants in ms of UTC. */
export interface HeatRound extends DueRound {
  readonly due_ms: number;
  /** From here a round is in time for it, until `lateFrom_ms`; then late until the next is due. */
  readonly opens_ms: number;
  readonly lateFrom_ms: number;
  readonly missedFrom_ms: number;
  readonly written: Kept<'round'> | null;
}

export type RoundStatus = 'in time' | 'written late' | 'missed' | 'late' | 'due' | 'to come' | 'not due';

/** What the rounds of a heat are judged by against the clock. */
interface HeatClock {
  readonly ended_ms: number | null;
  readonly rounds: readonly HeatRound[];
  readonly walked: readonly Kept<'round'>[];
}

export const observed = (kept: Kept<'round'> | Kept<'operation'>): number => Date.parse(kept.entry.observedAt);

/** Where a round stands at an instant. */
export function statusAt(heat: Pick<HeatClock, 'ended_ms'>, round: HeatRound, now_ms: number): RoundStatus {
  if (round.written) return observed(round.written) < round.lateFrom_ms ? 'in time' : 'written late';
  if (heat.ended_ms !== null && round.due_ms > heat.ended_ms) return 'not due';
  if (now_ms >= round.missedFrom_ms) return 'missed';
  if (now_ms >= round.lateFrom_ms) return 'late';
  return now_ms >= round.opens_ms ? 'due' : 'to come';
}

/** What a heat wants at an instant. */
export interface RoundsNow {
  /** In time or late now, and not written. */
  readonly current: HeatRound | null;
  /** The first one after that. */
  readonly next: HeatRound | null;
  readonly last: Kept<'round'> | null;
  readonly missed: readonly HeatRound[];
  readonly written: number;
}

export function roundsNow(heat: HeatClock, now_ms: number): RoundsNow {
  const status = (r: HeatRound) => statusAt(heat, r, now_ms);
  // Late for one while already in time for the next: the next is walked.
  const current = heat.rounds.findLast((r) => status(r) === 'due' || status(r) === 'late') ?? null;
  return {
    current,
    next: heat.rounds.find((r) => status(r) === 'to come' && r !== current) ?? null,
    last: heat.walked.findLast((r) => observed(r) <= now_ms) ?? null,
    missed: heat.rounds.filter((r) => status(r) === 'missed'),
    written: heat.rounds.filter((r) => r.written !== null).length,
  };
}
