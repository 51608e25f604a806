import { findingsOf } from '../../../shared/logbook/state/findings.ts';
import { holdState } from '../../../shared/logbook/state/holds.ts';
import type { View } from '../../../shared/logbook/state/view.ts';

/** Works out, piece by piece, the answers that every screen rests on; they are kept with the log. */
export function* workOut(view: View): Generator<void> {
  for (const { id } of view.plan.operations) {
    findingsOf(view, id);
    yield;
  }
  for (const hold of view.plan.holds) {
    holdState(view, hold);
    yield;
  }
}
