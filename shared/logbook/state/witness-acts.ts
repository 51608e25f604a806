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

/** Every act of a witness point, oldest first. */
export function witnessActs(view: View, { id, notice_h }: Pick<Witness, 'id' | 'notice_h'>): WitnessAct[] {
  const acts = live(view, `witness/${id}`, 'witness').sort(byTime);
  const told = acts.filter((a) => a.body.act === 'told').map(at);
  const ranOut = (waiver: Kept<'witness'>) => told.some((t) => t + notice_h * HOUR_MS <= at(waiver));
  return acts.map((kept) => {
    const counts = kept.body.act !== 'waived' || ranOut(kept);
    return { kept, counts, settles: counts && kept.body.act !== 'told' };
  });
}

/** When the notice of a witness point runs out, ms; null while nobody has been told. */
export function noticeEnds(view: View, witness: Pick<Witness, 'id' | 'notice_h'>): number | null {
  const told = witnessActs(view, witness).filter((a) => a.kept.body.act === 'told');
  return told[0] ? Math.min(...told.map((a) => at(a.kept))) + witness.notice_h * HOUR_MS : null;
}

/** An act in words; a waiver that does not count says why. */
export const actWords = ({ kept, counts }: WitnessAct, { toldAhead }: Pick<Witness, 'toldAhead'>): string =>
  counts ? kept.body.act : `waived before the notice of ${toldAhead} had run out: that does not count`;
