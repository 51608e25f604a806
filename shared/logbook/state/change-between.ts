import { stationsOf } from '../../plan/lookup.ts';
import type { Characteristic } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { stationStates } from './readings.ts';
import type { View } from './view.ts';

/** One station read in two operations. */
export interface StationChange {
  readonly station: string;
  readonly label: string;
  readonly before: Kept<'reading'>;
  readonly after: Kept<'reading'>;
  /** After less before, in the characteristic's unit. */
  readonly change: number;
}

/**
 * What has changed at each station between two operations, e.g. over a bake, in the plan's order of stations. A station
 * of which one of the two is missing, or of a core that was changed in between, is left out.
 */
export function changeBetween(
  view: View,
  characteristic: Characteristic,
  before: string,
  after: string,
): StationChange[] {
  const earlier = stationStates(view, before, characteristic.id);
  const later = stationStates(view, after, characteristic.id);
  return stationsOf(view.plan, characteristic).flatMap(({ id, label }) => {
    const [then, now] = [earlier.get(id)?.current.at(-1), later.get(id)?.current.at(-1)];
    return then && now
      ? [{ station: id, label, before: then, after: now, change: now.body.value - then.body.value }]
      : [];
  });
}

/** Whether any station has been read in both operations. */
export function isChangeKnown(view: View, { id }: Characteristic, before: string, after: string): boolean {
  const earlier = stationStates(view, before, id);
  for (const [station, { current }] of stationStates(view, after, id))
    if (current.length > 0 && (earlier.get(station)?.current.length ?? 0) > 0) return true;
  return false;
}

/** The operation in which a characteristic was read before this one; null where this is the first. */
export const readBefore = ({ operations }: Characteristic, operation: string): string | null =>
  operations[operations.indexOf(operation) - 1] ?? null;

/** In the order in which the earlier survey was read: what drifted while it was made shows as a run. */
export const asFirstRead = (changes: readonly StationChange[]): StationChange[] =>
  [...changes].sort(
    (a, b) =>
      Date.parse(a.before.entry.observedAt) - Date.parse(b.before.entry.observedAt) ||
      (a.before.hash < b.before.hash ? -1 : 1),
  );
