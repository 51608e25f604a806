/** So long before its end an arrangement is said to be due to end: time enough to fetch its owner. */
const DUE_BEFORE_MS = 2 * 3_600_000;

/** `due`: its end is near. `overdue`: its end is past and nobody has said that it was ended. */
export type ArrangementStatus = 'open' | 'due' | 'overdue' | 'ended';

/** How an arrangement stands at an instant. Where only a condition ends it, no time makes it overdue. */
export function arrangementStatus(
  { endsAt_ms, ended }: { readonly endsAt_ms: number | null; readonly ended: unknown },
  at_ms: number,
): ArrangementStatus {
  if (ended) return 'ended';
  if (endsAt_ms === null || at_ms < endsAt_ms - DUE_BEFORE_MS) return 'open';
  return at_ms <= endsAt_ms ? 'due' : 'overdue';
}
