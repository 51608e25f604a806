import type { Head } from '../../shared/logbook/entry.ts';
import type { ChainView, Heads, StoredEntry } from '../../shared/sync/port.ts';

/** What a simulated tablet keeps over a crash: entries, its own head, and how far it looked through the arrivals. */
export class Disk implements ChainView {
  cursor = 0;
  head: Head | null = null;
  /** Every entry, linked or not, in the order of arrival. */
  readonly kept: StoredEntry[] = [];
  private readonly known = new Set<string>();
  private readonly linked = new Map<string, StoredEntry>();
  private readonly waiting = new Map<string, StoredEntry[]>();
  private readonly ends = new Map<string, Map<string, number>>();

  constructor(readonly device: string) {}

  /** As another tablet finds it that was made from a copy of this one's storage. */
  copy(): Disk {
    const copy = new Disk(this.device);
    for (const entry of this.kept) copy.add(entry);
    copy.cursor = this.cursor;
    copy.head = this.head;
    return copy;
  }

  has(hash: string): boolean {
    return this.known.has(hash);
  }

  add(entry: StoredEntry): void {
    if (this.known.has(entry.hash)) return;
    this.known.add(entry.hash);
    this.kept.push(entry);
    const ready = [entry];
    for (let next = ready.pop(); next; next = ready.pop()) {
      if (next.prev !== null && !this.linked.has(next.prev)) {
        this.waiting.set(next.prev, [...(this.waiting.get(next.prev) ?? []), next]);
        continue;
      }
      this.link(next);
      ready.push(...(this.waiting.get(next.hash) ?? []));
      this.waiting.delete(next.hash);
    }
  }

  private link(entry: StoredEntry): void {
    this.linked.set(entry.hash, entry);
    let ends = this.ends.get(entry.device);
    if (!ends) {
      ends = new Map();
      this.ends.set(entry.device, ends);
    }
    if (entry.prev !== null) ends.delete(entry.prev);
    ends.set(entry.hash, entry.seq);
  }

  /** Each chain here ends where no other entry follows. An entry that forks off below an end leaves that end be. */
  tips(): Heads {
    return Object.fromEntries(
      [...this.ends].map(([device, ends]) => [device, [...ends].map(([hash, seq]): Head => [seq, hash])]),
    );
  }

  get(hash: string): StoredEntry | undefined {
    return this.linked.get(hash);
  }

  text(hash: string): string {
    return this.linked.get(hash)!.text;
  }
}
