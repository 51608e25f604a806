import { canonicalJson, sha256Hex, shortHash } from '../../shared/logbook/canonical.ts';
import { type Entry, FORMAT } from '../../shared/logbook/entry.ts';
import { randomOf } from '../../shared/practice/random.ts';

/** An entry as it travels: its canonical text, and what it is found by. */
export interface Link {
  readonly device: string;
  readonly seq: number;
  readonly hash: string;
  readonly prev: string | null;
  readonly text: string;
}

export const idOf = (name: string): string => shortHash(sha256Hex(name));

/** A chain that grows by made-up notes: the server carries entries and judges none. */
export class TestChain {
  readonly device: string;
  readonly links: Link[] = [];
  private readonly uniform: () => number;

  constructor(
    readonly casting: string,
    readonly name: string,
  ) {
    this.device = idOf(name);
    this.uniform = randomOf('chains', name).uniform;
  }

  /** Adds entries and gives those. */
  grow(count: number, words = 'Turned the table by hand'): Link[] {
    return Array.from({ length: count }, () => this.add(`${words} ${Math.floor(this.uniform() * 1e9)}`));
  }

  /** A chain with the same device that goes its own way after `seq`: what a copied tablet would write. */
  forkedAfter(seq: number): TestChain {
    const fork = new TestChain(this.casting, this.name);
    fork.links.push(...this.links.slice(0, seq));
    return fork;
  }

  private add(text: string): Link {
    const last = this.links.at(-1);
    const minute = (last?.seq ?? 0) % 60;
    const at = `2026-03-01T08:${String(minute).padStart(2, '0')}:00Z`;
    const entry: Entry = {
      format: FORMAT,
      casting: this.casting,
      device: this.device,
      seq: (last?.seq ?? 0) + 1,
      prev: last?.hash ?? null,
      seen: {},
      clock: [Date.parse(at), 0],
      observedAt: at,
      recordedAt: at,
      by: idOf('technician'),
      kind: 'note',
      body: { text },
    };
    const line = canonicalJson(entry);
    const link = { device: this.device, seq: entry.seq, hash: sha256Hex(line), prev: entry.prev, text: line };
    this.links.push(link);
    return link;
  }
}
