import type { Witness } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { byTime } from './readings.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

const HOUR_MS = 3_600_000;

/** What was recorded of a witness point, and whether it counts. */
export interface WitnessAct {
  readonly kept: Kept<'witness'>;
  /** A waiver counts only when the witness had been told and the notice had run out. */
  readonly counts: boolean;
  /** It settles the witness point: attended, or a waiver that counts. Notice alone lets work go on, and settles nothing. */
  readonly settles: boolean;
}

/** When it happened, as far as it can have: nobody was told later than it was written down. */
const at = ({ entry }: Kept<'witness'>): number => Math.min(Date.parse(entry.observedAt), Date.parse(entry.recordedAt));

/** How long ahead a witness is told: once, or twice where the plan wants a second notice nearer to the work. */
export type Noticed = Pick<Witness, 'id' | 'notice_h' | 'secondNotice_h'>;

/** Every act of a witness point, oldest first. */
export function witnessActs(view: View, witness: Noticed): WitnessAct[] {
  const acts = live(view, `witness/${witness.id}`, 'witness').sort(byTime);
  const told = acts.filter((a) => a.body.act === 'told').map(at);
  const ranOut = (waiver: Kept<'witness'>) => {
    const { ends_ms } = noticeOf(
      told.filter((t) => t <= at(waiver)),
      witness,
    );
    return ends_ms !== null && ends_ms <= at(waiver);
  };
  return acts.map((kept) => {
    const counts = kept.body.act !== 'waived' || ranOut(kept);
    return { kept, counts, settles: counts && kept.body.act !== 'told' };
  });
}

export interface Notice {
  /** When it runs out; null while a notice is still to be given. */
  readonly ends_ms: number | null;
  /** The notice that is still to be given. */
  readonly lacks: 'first' | 'second' | null;
}

/** How far the notice of a witness point is. */
export const notice = (view: View, witness: Noticed): Notice =>
  noticeOf(
    witnessActs(view, witness)
      .filter((a) => a.kept.body.act === 'told')
      .map((a) => at(a.kept)),
    witness,
  );

/**
 * The second notice is a telling of its own, nearer to the work: the first that comes at least its hours after the first
 * notice. One telling that was written on two tablets, or twice in a minute, is one.
 */
function noticeOf(told: readonly number[], { notice_h, secondNotice_h }: Noticed): Notice {
  const [first, ...later] = told.toSorted((a, b) => a - b);
  if (first === undefined) return { ends_ms: null, lacks: 'first' };
  const ends_ms = first + notice_h * HOUR_MS;
  if (secondNotice_h === undefined) return { ends_ms, lacks: null };
  const second = later.find((t) => t >= first + secondNotice_h * HOUR_MS);
  if (second === undefined) return { ends_ms: null, lacks: 'second' };
  return { ends_ms: Math.max(ends_ms, second + secondNotice_h * HOUR_MS), lacks: null };
}

/** An act in words; a waiver that does not count says why. */
export const actWords = ({ kept, counts }: WitnessAct, { toldAhead }: Pick<Witness, 'toldAhead'>): string =>
  counts ? kept.body.act : `waived before the notice of ${toldAhead} had run out: that does not count`;
