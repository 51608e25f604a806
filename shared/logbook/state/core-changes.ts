import { coresAt, isOfCores } from '../../plan/core-stations.ts';
import type { Characteristic, Plan } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { live } from './strikes.ts';
import { anyKind, type View } from './view.ts';

/** A plan is never changed in place. */
const ofCores = new WeakMap<Plan, ReadonlySet<string>>();

function coreCharacteristics(plan: Plan): ReadonlySet<string> {
  // What is measured of the floor at the place of a core was there before it, and stays when the core is changed.
  const ofCore = ({ id, stations }: Characteristic) => isOfCores(plan, { stations }) && !id.startsWith('floor-');
  const found = ofCores.get(plan) ?? new Set(plan.characteristics.filter(ofCore).map((c) => c.id));
  ofCores.set(plan, found);
  return found;
}

/** The changes of the core at an address that stand. */
export const changesOf = (view: View, address: string): readonly Kept<'core-change'>[] =>
  live(view, `core/${address}`, 'core-change');

/** The changes of the cores that a reading belongs to: for a gap those on both sides. */
function changesAt(view: View, { body }: Kept<'reading'>): readonly Kept<'core-change'>[] {
  if (!coreCharacteristics(view.plan).has(body.characteristic)) return [];
  return coresAt(body.station).flatMap((address) => changesOf(view, address));
}

/**
 * Whether an entry tells of the core that a change took out: it was written without knowledge of the change, or seen
 * before it, as what is typed later from paper.
 */
export const isBeforeChange = (view: View, entry: Kept, change: Kept<'core-change'>): boolean =>
  !view.standing.knowledge.covers(entry, anyKind(change)) ||
  Date.parse(entry.entry.observedAt) < Date.parse(change.entry.observedAt);

/** The changes that took out what a reading was taken of; none where it tells of the core that is there. */
export const changedSince = (view: View, reading: Kept<'reading'>): readonly Kept<'core-change'>[] =>
  changesAt(view, reading).filter((change) => isBeforeChange(view, anyKind(reading), change));

/** Whether a reading was taken of a core that has been taken out: it stays readable and counts no more. */
export const isOfCoreTakenOut = (view: View, reading: Kept<'reading'>): boolean =>
  changedSince(view, reading).length > 0;
