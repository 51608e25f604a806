import type { Kept } from '../logbook/log.ts';
import type { View } from '../logbook/state/view.ts';

/**
 * What another tablet lacks, as far as is known here: it has its own chain, and what its last entry here had seen.
 * Branches of a fork are all handed on, since which of them it has cannot be told.
 */
export function lacking(view: View, device: string): Kept[] {
  const head = view.log.head(device);
  const last = head ? view.log.get(head[1]) : undefined;
  const known = last ? view.standing.knowledge.knownTo(last) : new Map<string, readonly [number, string]>();
  return [...view.log.all()].filter((kept) => {
    if (kept.entry.device === device) return !view.log.isOnTrunk(kept);
    const seen = known.get(kept.entry.device);
    return !(seen && kept.entry.seq <= seen[0] && view.log.isOnTrunk(kept));
  });
}
