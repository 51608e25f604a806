import type { Kept } from '../log.ts';
import { byTime } from './readings.ts';
import { anyKind, type View } from './view.ts';

/** One side of a fork: what a copied or restored tablet wrote from one place on. */
export interface Branch {
  /** Its last entry: what an adoption names. */
  readonly tip: Kept;
  /** From the fork to the tip, in the order of the chain. */
  readonly entries: readonly Kept[];
  /** How many of them, from the fork on, a keeper has adopted. */
  readonly adopted: number;
}

/** The branches of a forked chain, the longest first; none where the chain is whole. */
export function branchesOf(view: View, device: string): Branch[] {
  if (view.log.forkOf(device) === null) return [];
  const beyond = [...view.log.all()].filter(
    (k) => k.entry.device === device && view.log.isLinked(k) && !view.log.isOnTrunk(k),
  );
  const followed = new Set(beyond.map((k) => k.entry.prev));
  return beyond
    .filter((k) => !followed.has(k.hash))
    .map((tip) => branchDownFrom(view, tip))
    .sort((a, b) => b.entries.length - a.entries.length || byTime(a.tip, b.tip));
}

function branchDownFrom(view: View, tip: Kept): Branch {
  const entries: Kept[] = [];
  for (let at: Kept | undefined = tip; at && !view.log.isOnTrunk(at); at = before(view, at)) entries.push(at);
  entries.reverse();
  const isAdopted = (kept: Kept) => view.standing.faultOf(kept) !== 'fork';
  return { tip, entries, adopted: entries.filter(isAdopted).length };
}

const before = (view: View, { entry }: Kept): Kept | undefined =>
  entry.prev === null ? undefined : view.log.get(entry.prev);

/** Every tablet that has written anything here, admitted or not, and those that are admitted and have not. */
export interface TabletLine {
  readonly device: string;
  /** The name that a keeper admitted it under; null while none has. */
  readonly name: string | null;
  readonly retired: boolean;
  /** Entries of its unbroken chain that are here. */
  readonly entries: number;
  /** When the last of them was written, ISO 8601. */
  readonly lastAt: string | null;
  /** How far others have seen its chain, where that is further than what is here. */
  readonly missing: number;
  readonly forkedAt: number | null;
}

export function tabletLines(view: View): TabletLine[] {
  const admitted = new Map(view.standing.tablets().map((t) => [t.device, t]));
  const { seen } = view.log.gaps();
  return [...new Set([...admitted.keys(), ...view.log.devices(), ...seen.keys()])].map((device) => {
    const head = view.log.head(device);
    return {
      device,
      name: admitted.get(device)?.name ?? null,
      retired: admitted.get(device)?.retired ?? false,
      entries: head?.[0] ?? 0,
      lastAt: head ? view.log.recordedAt(device, head[0]) : null,
      missing: Math.max(0, (seen.get(device) ?? 0) - (head?.[0] ?? 0)),
      forkedAt: view.log.forkOf(device),
    };
  });
}

/** Writers of whom entries are here and whom no keeper has admitted. */
export const strangers = (view: View): string[] => [
  ...new Set(
    [...view.log.all()].map((k) => anyKind(k).entry.by).filter((person) => view.standing.person(person) === null),
  ),
];
