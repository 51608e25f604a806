import type { Kept } from '../log.ts';

/** Oldest first, by the clock that orders for display. */
export const byTime = (a: { entry: Kept['entry']; hash: string }, b: { entry: Kept['entry']; hash: string }): number =>
  a.entry.clock[0] - b.entry.clock[0] || a.entry.clock[1] - b.entry.clock[1] || (a.hash < b.hash ? -1 : 1);
