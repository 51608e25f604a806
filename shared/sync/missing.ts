import type { Head } from '../logbook/entry.ts';
import type { ChainView, Heads } from './port.ts';

type Link = NonNullable<ReturnType<ChainView['get']>>;

/**
 * The hashes of entries here that the other side lacks, as far as its heads tell: chain by chain, an entry before those
 * that build on it. It costs as much as is missing, not as much as there is; only a new fork is walked back to its root.
 *
 * Where the other side has a head that is not here, it may well be ahead: of such a chain only what builds on a head
 * that both know is given. The rest shows itself once that head is here.
 */
export function missingThere(view: ChainView, theirs: Heads, skipped: ReadonlySet<string> = new Set()): string[] {
  const missing: string[] = [];
  const picked = new Set<string>();
  for (const [device, tips] of Object.entries(view.tips())) {
    if (skipped.has(device)) continue;
    const heads = theirs[device] ?? [];
    const known = linksOf(view, heads);
    const isUnclear = known.length < heads.length;
    for (const tip of linksOf(view, tips)) {
      const line = lineTo(view, tip, known, isUnclear, picked);
      for (const hash of line) picked.add(hash);
      missing.push(...line);
    }
  }
  return missing;
}

/** Heads of the other side that are not here, by device. */
export function missingHere(view: ChainView, theirs: Heads): Heads {
  const lacking = Object.entries(theirs).map(
    ([device, heads]) => [device, heads.filter(([, hash]) => view.get(hash) === undefined)] as const,
  );
  return Object.fromEntries(lacking.filter(([, heads]) => heads.length > 0));
}

const linksOf = (view: ChainView, heads: readonly Head[]): Link[] => heads.flatMap(([, hash]) => view.get(hash) ?? []);

/** From what both have to a tip, oldest first. */
function lineTo(
  view: ChainView,
  tip: Link,
  known: readonly Link[],
  isUnclear: boolean,
  picked: ReadonlySet<string>,
): string[] {
  const ends = new Set([...known.map((k) => k.hash), ...picked]);
  const lowest = known.length === 0 ? 0 : Math.min(...known.map((k) => k.seq));
  const quick: string[] = [];
  let at: Link | undefined = tip;
  for (; at && at.seq >= lowest && !ends.has(at.hash); at = before(view, at)) quick.push(at.hash);
  if (at && ends.has(at.hash)) return quick.reverse();
  if (isUnclear) return [];
  return at === undefined ? quick.reverse() : lineFromFork(view, tip, known, picked);
}

/** Walks down the tip's line and those of the known heads side by side, until it meets one of them. */
function lineFromFork(view: ChainView, tip: Link, known: readonly Link[], picked: ReadonlySet<string>): string[] {
  const line: string[] = [];
  const walkers: (Link | undefined)[] = [...known];
  for (let at: Link | undefined = tip; at; at = before(view, at)) {
    if (picked.has(at.hash)) break;
    for (const [i, walker] of walkers.entries()) walkers[i] = downTo(view, walker, at.seq);
    if (walkers.some((w) => w?.hash === at!.hash)) break;
    line.push(at.hash);
  }
  return line.reverse();
}

function downTo(view: ChainView, from: Link | undefined, seq: number): Link | undefined {
  let at = from;
  while (at && at.seq > seq) at = before(view, at);
  return at;
}

const before = (view: ChainView, { prev }: Link): Link | undefined => (prev === null ? undefined : view.get(prev));
