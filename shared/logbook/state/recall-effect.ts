import type { Body } from '../kinds.ts';
import { operationsOf } from './hold-scope.ts';
import { stationStates } from './readings.ts';
import { isReleased } from './signatures.ts';
import type { View } from './view.ts';

/** What finding an instrument bad would put in question. */
export interface RecallEffect {
  readonly readings: number;
  /** The operations that they stand in, and the released hold points that rest on those. */
  readonly operations: readonly string[];
  readonly holds: readonly string[];
}

/** The readings that stand, were taken with the instrument, and fall into the time. */
export function recallEffect(view: View, recall: Pick<Body<'recall'>, 'instrument' | 'since'>): RecallEffect {
  const from_ms = Date.parse(recall.since);
  const counts = view.plan.operations.map(({ id }) => ({
    id,
    count: standingSince(view, id, recall.instrument, from_ms),
  }));
  const operations = counts.filter(({ count }) => count > 0).map(({ id }) => id);
  return {
    readings: counts.reduce((sum, { count }) => sum + count, 0),
    operations,
    holds: view.plan.holds
      .filter((hold) => isReleased(view)(hold) && operationsOf(hold).some((o) => operations.includes(o)))
      .map(({ id }) => id),
  };
}

function standingSince(view: View, operation: string, instrument: string, from_ms: number): number {
  let count = 0;
  for (const scope of view.log.scopeNames(`reading/${operation}/`)) {
    for (const { current } of stationStates(view, operation, scope.split('/')[2]!).values())
      count += current.filter(
        (r) => r.body.instrument === instrument && Date.parse(r.entry.observedAt) >= from_ms,
      ).length;
  }
  return count;
}
