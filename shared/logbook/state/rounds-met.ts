import type { Hold, Requirement } from '../../plan/schema.ts';
import { greatestGap_h, type RoundsState, roundsState } from './rounds.ts';
import { mark } from './sequence.ts';
import type { View } from './view.ts';

const HOUR_MS = 3_600_000;

/** The rounds of a heat beside what a hold point asks of them. */
export interface RoundsMet {
  /** Of the whole heat plan; 0 where the heat was not started. */
  readonly due: number;
  readonly recorded: number;
  /** What they lack, each in words. */
  readonly lacking: readonly string[];
}

type Need = Requirement & { kind: 'rounds' };

/** How far the rounds of a heat meet what a hold point asks of them. */
export function roundsMet(view: View, hold: Hold, need: Need): RoundsMet {
  const state = roundsState(view, need.heatPlan);
  return {
    due: state.due,
    recorded: state.recorded,
    lacking: [...lackingAtSoaks(need, state), ...lackingUpTo(view, hold, need, state)],
  };
}

function lackingAtSoaks(need: Need, { due, recorded, unwritten, missed }: RoundsState): string[] {
  const inSoak = unwritten.filter((m) => need.noneMissedIn.includes(m.segment)).length;
  const missedInSoak = missed.filter((m) => need.noneMissedIn.includes(m.segment)).length;
  return [
    ...(due > 0 && recorded / due < need.share ? [`fewer than ${Math.round(need.share * 100)} %`] : []),
    ...(missedInSoak > 0 ? [`${missedInSoak} missed at a soak`] : []),
    ...(inSoak > missedInSoak ? [`${inSoak - missedInSoak} at a soak not walked`] : []),
  ];
}

/** What is asked of the time up to the hold point: it stands at the finish of the operation before it. */
function lackingUpTo(view: View, hold: Hold, need: Need, state: RoundsState): string[] {
  const { heat, unwritten } = state;
  if (!heat) return [];
  const finished = mark(view, hold.after, 'finished');
  const until_ms = finished ? Date.parse(finished.entry.observedAt) : state.until_ms;
  const { noneMissedLast_h: last_h, greatestGap_h: most_h } = need;
  const lacking: string[] = [];
  if (last_h !== undefined) {
    const from_ms = until_ms - last_h * HOUR_MS;
    const count = unwritten.filter((m) => m.missedFrom_ms <= until_ms && m.due_ms > from_ms).length;
    if (count > 0) lacking.push(`${count} missed in the last ${last_h} h`);
  }
  if (most_h !== undefined) {
    const gap_h = greatestGap_h(heat, Math.min(until_ms, heat.planEnds_ms));
    if (gap_h > most_h) lacking.push(`a gap of ${gap_h.toFixed(1)} h without a round`);
  }
  return lacking;
}
