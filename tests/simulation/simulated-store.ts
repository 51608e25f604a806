import type { Head } from '../../shared/logbook/entry.ts';
import type { Heads, Page, PageWanted, ServerStore, StoredEntry } from '../../shared/sync/port.ts';

/** The disk of the server is full; nothing was kept. */
export class DiskFull extends Error {}

/** The server's database, in memory: both processes work on it. Each call is one transaction. */
export class SimulatedStore {
  arrivals: StoredEntry[] = [];
  isFull = false;
  private hashes = new Map<string, StoredEntry>();
  private lastHeads: { readonly of: number; readonly heads: Heads } | null = null;

  has(hash: string): boolean {
    return this.hashes.has(hash);
  }

  heads(): Heads {
    if (this.lastHeads?.of !== this.arrivals.length)
      this.lastHeads = { of: this.arrivals.length, heads: this.headsNow() };
    return this.lastHeads.heads;
  }

  private headsNow(): Heads {
    const followed = new Set(this.arrivals.map((e) => e.prev));
    const heads: Record<string, Head[]> = {};
    for (const { device, seq, hash } of this.arrivals)
      if (!followed.has(hash)) heads[device] = [...(heads[device] ?? []), [seq, hash]];
    return heads;
  }

  append(entries: readonly StoredEntry[]): { added: number } | { gap: StoredEntry } {
    const fresh = new Map<string, StoredEntry>();
    for (const entry of entries) {
      if (this.hashes.has(entry.hash) || fresh.has(entry.hash)) continue;
      const before = entry.prev === null ? null : (this.hashes.get(entry.prev) ?? fresh.get(entry.prev));
      const follows =
        before === null ? entry.seq === 1 : before?.device === entry.device && before.seq === entry.seq - 1;
      if (!follows) return { gap: entry };
      fresh.set(entry.hash, entry);
    }
    if (this.isFull && fresh.size > 0) throw new DiskFull();
    for (const [hash, entry] of fresh) {
      this.hashes.set(hash, entry);
      this.arrivals.push(entry);
    }
    return { added: fresh.size };
  }

  arrivedAfter({ after, without, mostEntries, mostText }: PageWanted): Page {
    const entries: StoredEntry[] = [];
    let room = mostText;
    let last = after;
    for (let n = after; n < this.arrivals.length && entries.length < mostEntries; n++) {
      const entry = this.arrivals[n]!;
      if (entry.device !== without) {
        room -= entry.text.length;
        if (room < 0 && entries.length > 0) break;
        entries.push(entry);
      }
      last = n + 1;
    }
    return { entries, last, count: Math.max(this.arrivals.length, last) };
  }

  backup(): readonly StoredEntry[] {
    return [...this.arrivals];
  }

  restore(backup: readonly StoredEntry[]): void {
    this.arrivals = [...backup];
    this.lastHeads = null;
    this.hashes = new Map(backup.map((e) => [e.hash, e]));
  }
}

/** One server process's door to the store: each call waits its turn, and dies with its process. */
export class ProcessStore implements ServerStore {
  constructor(
    private readonly store: SimulatedStore,
    private readonly later: (work: () => void) => void,
  ) {}

  heads(): Promise<Heads> {
    return this.soon(() => this.store.heads());
  }

  append(_casting: string, entries: readonly StoredEntry[]): ReturnType<ServerStore['append']> {
    return this.soon(() => this.store.append(entries));
  }

  arrivedAfter(_casting: string, wanted: PageWanted): Promise<Page> {
    return this.soon(() => this.store.arrivedAfter(wanted));
  }

  private soon<T>(work: () => T): Promise<T> {
    return new Promise((resolve, reject) => {
      this.later(() => {
        try {
          resolve(work());
        } catch (error) {
          reject(error);
        }
      });
    });
  }
}
