import { missingThere } from './missing.ts';
import type { ChainView, Heads } from './port.ts';

/**
 * How far a chain is known to lie elsewhere too: the place of its furthest entry that the other side acknowledged.
 * @param head the hash of the chain's last entry here
 */
export function carriedUpTo(view: ChainView, theirs: Heads, device: string, head: string): number {
  const known = new Set((theirs[device] ?? []).map(([, hash]) => hash));
  for (let at = view.get(head); at; at = at.prev === null ? undefined : view.get(at.prev))
    if (known.has(at.hash)) return at.seq;
  return 0;
}

/** The entries that are not yet elsewhere, all chains, oldest of each chain first. */
export const notElsewhere = (view: ChainView, theirs: Heads | null): readonly string[] =>
  missingThere(view, theirs ?? {});
