import type { Entry, EnvelopeFault, Head } from '../logbook/entry.ts';

/** An entry as stores and batches hold it: its canonical text, and what it is found by. */
export interface StoredEntry {
  readonly device: string;
  readonly seq: number;
  readonly hash: string;
  readonly prev: string | null;
  readonly text: string;
}

/** Where chains end, by device: one head each, or several where a chain forks. */
export type Heads = Readonly<Record<string, readonly Head[]>>;

/** Entries in the order in which they arrived, after the first so many. */
export interface Page {
  readonly entries: readonly StoredEntry[];
  /** The number of the last that was looked at: ask again after it. */
  readonly last: number;
  /** How many have arrived in all. */
  readonly count: number;
}

export interface PageWanted {
  readonly after: number;
  /** A tablet that has its own chain need not be sent it. */
  readonly without: string | null;
  readonly mostEntries: number;
  /** UTF-16 units of text; one entry is given however long it is. */
  readonly mostText: number;
}

/**
 * What a server keeps of all castings. It numbers the entries of a casting from 1 as it keeps them; no entry with a
 * number below one that was given may turn up later.
 */
export interface ServerStore {
  heads(casting: string): Promise<Heads>;
  /**
   * Keeps those that are not here yet, all or none, an entry before those that build on it. Branches of a fork are
   * kept alike.
   * @returns after they are kept for good: how many were new, or the first entry whose forerunner is not here.
   */
  append(casting: string, entries: readonly StoredEntry[]): Promise<{ added: number } | { gap: StoredEntry }>;
  arrivedAfter(casting: string, wanted: PageWanted): Promise<Page>;
}

/** What the tablet's side reads of its own log. Only entries whose line back to the start of their chain is whole. */
export interface ChainView {
  /** The ends of each chain: what no other entry follows. */
  tips(): Heads;
  get(hash: string): Omit<StoredEntry, 'text'> | undefined;
  /** The canonical text of an entry that `get` gave. */
  text(hash: string): string;
}

/** Checks the envelope of a canonical line and hashes it: `readEntry`, or the simulator's cheaper one. */
export type ReadEntry = (
  text: string,
  casting: string,
) => { readonly entry: Pick<Entry, 'device' | 'seq' | 'prev'>; readonly hash: string } | { fault: EnvelopeFault };
