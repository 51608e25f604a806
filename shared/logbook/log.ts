import type { Entry, Head } from './entry.ts';
import { type Body, isKind, type Kind, readBody } from './kinds.ts';
import { scopesOf } from './scopes.ts';

/** Whether the signature that an entry carries verifies with the key that it carries. */
export type SignatureCheck = 'none' | 'good' | 'bad';

/** An entry as the log keeps it: with its hash, its checked signature, and its body if this build can read it. */
export interface Kept<K extends Kind = Kind> {
  readonly entry: Entry;
  readonly hash: string;
  readonly signature: SignatureCheck;
  readonly kind: K | null;
  readonly body: Body<K>;
}

interface Chain {
  /** Entries whose line back to seq 1 is whole, by seq: more than one at a seq is a fork. */
  readonly linked: Map<number, string[]>;
  /** The last seq of the unbroken, unforked part. */
  tip: number;
}

/**
 * All entries of one casting that are here, in any order of arrival. It only grows; what it answers depends on the
 * set of entries alone. Every sound envelope is kept; whether an entry counts is worked out on reading (`standing.ts`).
 */
export class Log {
  /** Goes up with every entry, for those who keep answers. */
  version = 0;
  private readonly byHash = new Map<string, Kept>();
  private readonly chains = new Map<string, Chain>();
  private readonly waiting = new Map<string, string[]>();
  private readonly scoped = new Map<string, Map<string, Kept>>();

  constructor(readonly casting: string) {}

  get size(): number {
    return this.byHash.size;
  }

  /** Adds an entry that `readEntry` passed. Adding it again changes nothing. */
  add(entry: Entry, hash: string, signature: SignatureCheck): void {
    if (this.byHash.has(hash)) return;
    const kept = keep(entry, hash, signature);
    this.byHash.set(hash, kept);
    if (kept.kind) for (const scope of scopesOf(kept.kind, kept.body)) this.scope(scope).set(hash, kept);
    this.link(kept);
    this.version += 1;
  }

  get(hash: string): Kept | undefined {
    return this.byHash.get(hash);
  }

  /** Every entry, in no particular order. */
  all(): IterableIterator<Kept> {
    return this.byHash.values();
  }

  /** The entries of one scope, standing or not, sorted by hash. */
  inScope<K extends Kind = Kind>(name: string): Kept<K>[] {
    const map = this.scoped.get(name);
    return map ? ([...map.values()].sort(byHash) as unknown as Kept<K>[]) : [];
  }

  scopeNames(prefix: string): string[] {
    return [...this.scoped.keys()].filter((name) => name.startsWith(prefix)).sort();
  }

  devices(): string[] {
    return [...this.chains.keys()].sort();
  }

  /** The head of a chain's unbroken, unforked part. */
  head(device: string): Head | null {
    const chain = this.chains.get(device);
    if (!chain || chain.tip === 0) return null;
    return [chain.tip, chain.linked.get(chain.tip)![0]!];
  }

  heads(): Record<string, Head> {
    return Object.fromEntries(this.devices().flatMap((d) => (this.head(d) ? [[d, this.head(d)!]] : [])));
  }

  /** Whether an entry's line back to the start of its chain is whole. */
  isLinked(kept: Kept): boolean {
    return this.chains.get(kept.entry.device)?.linked.get(kept.entry.seq)?.includes(kept.hash) ?? false;
  }

  /** Whether an entry stands in the part of its chain on which all agree. */
  isOnTrunk(kept: Kept): boolean {
    const chain = this.chains.get(kept.entry.device);
    return chain !== undefined && kept.entry.seq <= chain.tip && chain.linked.get(kept.entry.seq)?.[0] === kept.hash;
  }

  /** The seq at which a chain forks, or null. */
  forkOf(device: string): number | null {
    const chain = this.chains.get(device);
    return chain?.linked.has(chain.tip + 1) ? chain.tip + 1 : null;
  }

  private scope(name: string): Map<string, Kept> {
    const found = this.scoped.get(name);
    if (found) return found;
    const made = new Map<string, Kept>();
    this.scoped.set(name, made);
    return made;
  }

  private chainOf(device: string): Chain {
    const found = this.chains.get(device);
    if (found) return found;
    const made: Chain = { linked: new Map(), tip: 0 };
    this.chains.set(device, made);
    return made;
  }

  /** Ties an entry to its chain, and those that waited for it. Iterative: a chain may be very long. */
  private link(first: Kept): void {
    const ready = [first];
    for (let kept = ready.pop(); kept; kept = ready.pop()) {
      if (!this.followsLinked(kept)) {
        const prev = kept.entry.prev ?? '';
        this.waiting.set(prev, [...(this.waiting.get(prev) ?? []), kept.hash]);
        continue;
      }
      const chain = this.chainOf(kept.entry.device);
      chain.linked.set(kept.entry.seq, [...(chain.linked.get(kept.entry.seq) ?? []), kept.hash].sort());
      moveTip(chain, kept.entry.seq);
      for (const hash of this.waiting.get(kept.hash) ?? []) ready.push(this.byHash.get(hash)!);
      this.waiting.delete(kept.hash);
    }
  }

  private followsLinked(kept: Kept): boolean {
    const { seq, prev, device } = kept.entry;
    if (seq === 1) return prev === null;
    const before = prev === null ? undefined : this.byHash.get(prev);
    return (
      before !== undefined && before.entry.device === device && before.entry.seq === seq - 1 && this.isLinked(before)
    );
  }
}

/** The tip is the last seq up to which every seq has exactly one linked entry. */
function moveTip(chain: Chain, changedSeq: number): void {
  if (chain.linked.get(changedSeq)!.length > 1) chain.tip = Math.min(chain.tip, changedSeq - 1);
  else while (chain.linked.get(chain.tip + 1)?.length === 1) chain.tip += 1;
}

function keep(entry: Entry, hash: string, signature: SignatureCheck): Kept {
  const kind = isKind(entry.kind) ? entry.kind : null;
  const body = kind && readBody(kind, entry.body);
  // `body` is read only where `kind` is set; a body that does not fit leaves both empty.
  return body === null
    ? { entry, hash, signature, kind: null, body: {} as Body<Kind> }
    : { entry, hash, signature, kind, body };
}

const byHash = (a: Kept, b: Kept): number => (a.hash < b.hash ? -1 : a.hash > b.hash ? 1 : 0);
