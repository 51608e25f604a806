import { findingsOf } from '../../../shared/logbook/state/findings.ts';
import { holdState } from '../../../shared/logbook/state/holds.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { isOfCores } from '../../../shared/plan/core-stations.ts';
import { stationsByCore } from '../../../shared/plan/cores.ts';

/** Works out, piece by piece, the answers that every screen rests on; they are kept with the log. */
export function* workOut(view: View): Generator<void> {
  for (const { id } of view.plan.operations) {
    findingsOf(view, id);
    yield;
  }
  for (const characteristic of view.plan.characteristics) {
    if (!isOfCores(view.plan, characteristic)) continue;
    stationsByCore(view.plan, characteristic);
    yield;
  }
  for (const hold of view.plan.holds) {
    holdState(view, hold);
    yield;
  }
}
