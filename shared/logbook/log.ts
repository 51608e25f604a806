import type { Entry, Head } from './entry.ts';
import type { Body, Kind } from './kinds.ts';
import { type Content, contentOf, type Outline, outlineOf, type SignatureCheck } from './outline.ts';

export type { SignatureCheck } from './outline.ts';

/** An entry as the log keeps it: with its hash, its checked signature, and its body if this build can read it. */
export interface Kept<K extends Kind = Kind> {
  /** What is known of it without reading its text, which the others of these may have to do. */
  readonly outline: Outline;
  readonly entry: Entry;
  readonly hash: string;
  readonly signature: SignatureCheck;
  readonly kind: K | null;
  readonly body: Body<K>;
}

/** Where an entry's text is read. */
export interface EntrySource {
  entry(): Entry;
}

/** A kept entry whose text is read when somebody first asks for what stands in it. */
class Line implements Kept {
  readonly hash: string;
  readonly signature: SignatureCheck;
  readonly kind: Kind | null;

  constructor(
    readonly outline: Outline,
    private content: Content | null,
    private readonly source: EntrySource,
  ) {
    this.hash = outline.hash;
    this.signature = outline.signature;
    this.kind = outline.kind;
  }

  get entry(): Entry {
    return this.read().entry;
  }

  get body(): Body<Kind> {
    return this.read().body;
  }

  private read(): Content {
    this.content ??= contentOf(this.source.entry());
    return this.content;
  }
}

/** Hears what is read of the log and what changes in it. */
export interface Watcher {
  /**
   * A part was read: a scope by name, `*all`, `*gaps`, `*names/…` for the scopes that begin so, or `hash/…` of an entry
   * that is not here.
   */
  read(part: string): void;
  touched(parts: Iterable<string>): void;
  /** Something came that can change the standing of entries already here: a roster line, a fork, a late link. */
  upset(): void;
}

export interface Gaps {
  /** How far entries that are here have seen each chain. */
  readonly seen: ReadonlyMap<string, number>;
  /** The chains of which an entry that was seen is not here, whatever else may stand at its place. */
  readonly unseen: ReadonlySet<string>;
  /** By chain, the furthest place of an entry that waits for one before it. */
  readonly waiting: ReadonlyMap<string, number>;
  /** How many entries this build cannot read. */
  readonly unreadable: number;
}

/** Where an entry stands in its chain. */
type Tie = Pick<Outline, 'seq' | 'prev' | 'hash'>;

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
  /** Goes up with every entry. */
  version = 0;
  /** Goes up when the standing of entries that were here already may have changed. */
  epoch = 0;
  private unreadable = 0;
  private readonly watchers: Watcher[] = [];
  /** By hash, the chains of heads that entries here have seen and that are not here themselves. */
  private readonly wanted = new Map<string, string>();
  private readonly seenHeads = new Map<string, number>();
  private readonly byHash = new Map<string, Kept>();
  private readonly chains = new Map<string, Chain>();
  private readonly waiting = new Map<string, string[]>();
  private readonly scoped = new Map<string, Kept[]>();
  /** Names of scopes by each beginning of them that ends with a slash. */
  private readonly folders = new Map<string, string[]>();

  constructor(readonly casting: string) {}

  get size(): number {
    return this.byHash.size;
  }

  watch(watcher: Watcher): void {
    this.watchers.push(watcher);
  }

  /** Adds an entry that `readEntry` passed. Adding it again changes nothing. */
  add(entry: Entry, hash: string, signature: SignatureCheck): void {
    if (this.byHash.has(hash)) return;
    const content = contentOf(entry);
    this.keep(new Line(outlineOf(content, hash, signature), content, { entry: () => entry }));
  }

  /**
   * Adds an entry by its outline, as `outlineOf` gave it when the entry was checked.
   * @param source gives the entry when somebody first asks for it
   */
  addOutlined(outline: Outline, source: EntrySource): void {
    if (!this.byHash.has(outline.hash)) this.keep(new Line(outline, null, source));
  }

  /** Takes in an entry as another log keeps it. */
  include(kept: Kept): void {
    if (!this.byHash.has(kept.hash)) this.keep(kept);
  }

  /** What an entry is tied and filed by; undefined when it is not here. */
  outline(hash: string): Outline | undefined {
    return this.byHash.get(hash)?.outline;
  }

  private keep(line: Kept): void {
    const { hash, scopes: names } = line.outline;
    const fresh = this.watchers.length > 0 ? names.filter((name) => !this.scoped.has(name)) : [];
    this.byHash.set(hash, line);
    for (const scope of names) this.scope(scope).push(line);
    if (line.kind === null) this.unreadable += 1;
    const waited = this.waiting.size;
    const upsets = this.noteHeads(line.outline) || names.some((name) => name === 'roster' || name === 'genesis');
    const linkedPlainly = this.link(line.outline);
    this.version += 1;
    if (upsets || !linkedPlainly) this.upset();
    if (this.watchers.length === 0) return;
    this.tell(line, fresh, this.movesGaps(line.outline) || this.waiting.size !== waited);
  }

  private tell(line: Kept, freshScopes: readonly string[], movesGaps: boolean): void {
    const { hash, scopes: names } = line.outline;
    const parts = [
      ...names,
      ...this.struckScopes(line),
      `hash/${hash}`,
      '*all',
      ...freshScopes.flatMap(foldersOf).map((folder) => `*names/${folder}`),
      ...(movesGaps ? ['*gaps'] : []),
    ];
    for (const watcher of this.watchers) watcher.touched(parts);
  }

  get(hash: string): Kept | undefined {
    const kept = this.byHash.get(hash);
    if (!kept) this.noteRead(`hash/${hash}`);
    return kept;
  }

  /** Every entry, in no particular order. */
  all(): IterableIterator<Kept> {
    this.noteRead('*all');
    return this.byHash.values();
  }

  /** The entries of one scope, standing or not, sorted by hash. */
  inScope<K extends Kind = Kind>(name: string): Kept<K>[] {
    // A strike counts as a change in the scopes of what it strikes: nobody needs to watch each entry for strikes.
    if (!name.startsWith('strike/')) this.noteRead(name);
    const filed = this.scoped.get(name);
    return filed ? ([...filed].sort(byHash) as unknown as Kept<K>[]) : [];
  }

  /** The scopes in a folder of their names, e.g. `reading/2.4/`, sorted. */
  scopeNames(folder: `${string}/`): string[] {
    this.noteRead(`*names/${folder}`);
    return [...(this.folders.get(folder) ?? [])].sort();
  }

  /** What is known to be missing. */
  gaps(): Gaps {
    this.noteRead('*gaps');
    return {
      seen: this.seenHeads,
      unseen: new Set(this.wanted.values()),
      waiting: this.waitingByDevice(),
      unreadable: this.unreadable,
    };
  }

  private waitingByDevice(): ReadonlyMap<string, number> {
    const furthest = new Map<string, number>();
    for (const hash of [...this.waiting.values()].flat()) {
      const { device, seq } = this.outline(hash)!;
      furthest.set(device, Math.max(furthest.get(device) ?? 0, seq));
    }
    return furthest;
  }

  devices(): string[] {
    return [...this.chains.keys()].sort();
  }

  /** The head of a chain's unbroken, unforked part. */
  head(device: string): Head | null {
    const chain = this.chains.get(device);
    return chain ? this.headAt(device, chain.tip) : null;
  }

  /** The last place of a chain at which an entry is tied to its start, on whichever branch. */
  furthest(device: string): number {
    const chain = this.chains.get(device);
    let seq = chain?.tip ?? 0;
    while (chain?.linked.has(seq + 1)) seq += 1;
    return seq;
  }

  /** The head of a chain as it would be with further entries of it, which are not added here. */
  headWith(device: string, further: readonly Tie[]): Head | null {
    const now = this.head(device);
    const plainly = this.forkOf(device) === null && this.waiting.size === 0 ? headAlong(now, further) : null;
    if (plainly) return plainly;
    const doubled = further.filter((f) => f.seq <= (now?.[0] ?? 0) && this.followsTrunk(f));
    if (doubled.length > 0) return this.headAt(device, Math.min(...doubled.map((f) => f.seq)) - 1);
    return this.forkOf(device) === null ? this.walkOn(now, further) : now;
  }

  private followsTrunk({ prev }: Tie): boolean {
    const before = prev === null ? undefined : this.byHash.get(prev);
    return prev === null || (before !== undefined && this.isOnTrunk(before));
  }

  /** From a head along the one entry that follows, until none does, or more than one. */
  private walkOn(from: Head | null, further: readonly Tie[]): Head | null {
    const after = new Map<string | null, string[]>();
    for (const { prev, hash } of further) after.set(prev, [...(after.get(prev) ?? []), hash]);
    let head = from;
    for (;;) {
      const prev: string | null = head?.[1] ?? null;
      const next: string[] = [...(after.get(prev) ?? []), ...(this.waiting.get(prev ?? '') ?? [])];
      if (next.length !== 1) return head;
      head = [(head?.[0] ?? 0) + 1, next[0]!];
    }
  }

  private headAt(device: string, seq: number): Head | null {
    const hash = this.chains.get(device)?.linked.get(seq)?.[0];
    return hash === undefined ? null : [seq, hash];
  }

  /** When the entry at a place of a chain's trunk was written; null where none is here. */
  recordedAt(device: string, seq: number): string | null {
    const hash = this.chains.get(device)?.linked.get(seq)?.[0];
    return hash === undefined ? null : this.byHash.get(hash)!.entry.recordedAt;
  }

  heads(): Record<string, Head> {
    return Object.fromEntries(this.devices().flatMap((d) => (this.head(d) ? [[d, this.head(d)!]] : [])));
  }

  /** Whether an entry's line back to the start of its chain is whole. */
  isLinked({ outline }: Pick<Kept, 'outline'>): boolean {
    return this.isTied(outline);
  }

  private isTied({ device, seq, hash }: Outline): boolean {
    return this.chains.get(device)?.linked.get(seq)?.includes(hash) ?? false;
  }

  /** Whether an entry stands in the part of its chain on which all agree. */
  isOnTrunk({ outline: { device, seq, hash } }: Pick<Kept, 'outline'>): boolean {
    const chain = this.chains.get(device);
    return chain !== undefined && seq <= chain.tip && chain.linked.get(seq)?.[0] === hash;
  }

  /** The seq at which a chain forks, or null. */
  forkOf(device: string): number | null {
    const chain = this.chains.get(device);
    return chain?.linked.has(chain.tip + 1) ? chain.tip + 1 : null;
  }

  private noteRead(part: string): void {
    for (const watcher of this.watchers) watcher.read(part);
  }

  private upset(): void {
    this.epoch += 1;
    for (const watcher of this.watchers) watcher.upset();
  }

  /** Whether an entry is a head that others had seen before it came. */
  private noteHeads({ seen, hash }: Outline): boolean {
    for (const device in seen) {
      const [seq, head] = seen[device]!;
      this.seenHeads.set(device, Math.max(this.seenHeads.get(device) ?? 0, seq));
      if (!this.byHash.has(head)) this.wanted.set(head, device);
    }
    return this.wanted.delete(hash);
  }

  private movesGaps({ kind, seen, device, seq }: Outline): boolean {
    return kind === null || Object.keys(seen).length > 0 || (this.seenHeads.get(device) ?? 0) >= seq;
  }

  private struckScopes(kept: Kept): readonly string[] {
    if (kept.kind !== 'strike') return [];
    return this.outline((kept.body as Body<'strike'>).target)?.scopes ?? [];
  }

  private scope(name: string): Kept[] {
    const found = this.scoped.get(name);
    if (found) return found;
    const made: Kept[] = [];
    this.scoped.set(name, made);
    for (const folder of foldersOf(name)) {
      const names = this.folders.get(folder);
      if (names) names.push(name);
      else this.folders.set(folder, [name]);
    }
    return made;
  }

  private chainOf(device: string): Chain {
    const found = this.chains.get(device);
    if (found) return found;
    const made: Chain = { linked: new Map(), tip: 0 };
    this.chains.set(device, made);
    return made;
  }

  /**
   * Ties an entry to its chain, and those that waited for it. Iterative: a chain may be very long.
   * @returns false when that changed where other entries stand.
   */
  private link(first: Outline): boolean {
    if (this.linkLast(first)) return true;
    let plainly = true;
    const ready = [first];
    for (let tie = ready.pop(); tie; tie = ready.pop()) {
      if (!this.followsLinked(tie)) {
        const prev = tie.prev ?? '';
        this.waiting.set(prev, [...(this.waiting.get(prev) ?? []), tie.hash]);
        continue;
      }
      const chain = this.chainOf(tie.device);
      const beside = chain.linked.get(tie.seq);
      chain.linked.set(tie.seq, beside ? [...beside, tie.hash].sort() : [tie.hash]);
      moveTip(chain, tie.seq);
      plainly = plainly && tie === first && beside === undefined;
      const waited = this.waiting.get(tie.hash);
      if (!waited) continue;
      for (const hash of waited) ready.push(this.outline(hash)!);
      this.waiting.delete(tie.hash);
    }
    return plainly;
  }

  /** Most entries come in the order of their chain, and nothing waits for them. */
  private linkLast(tie: Outline): boolean {
    const chain = this.chains.get(tie.device);
    if (!chain || tie.seq !== chain.tip + 1 || chain.linked.has(tie.seq)) return false;
    if (this.waiting.has(tie.hash) || !this.followsLinked(tie)) return false;
    chain.linked.set(tie.seq, [tie.hash]);
    chain.tip = tie.seq;
    return true;
  }

  private followsLinked({ seq, prev, device }: Outline): boolean {
    if (seq === 1) return prev === null;
    const before = prev === null ? undefined : this.outline(prev);
    return before !== undefined && before.device === device && before.seq === seq - 1 && this.isTied(before);
  }
}

/** The tip is the last seq up to which every seq has exactly one linked entry. */
function moveTip(chain: Chain, changedSeq: number): void {
  if (chain.linked.get(changedSeq)!.length > 1) chain.tip = Math.min(chain.tip, changedSeq - 1);
  else while (chain.linked.get(chain.tip + 1)?.length === 1) chain.tip += 1;
}

/** The last of entries that follow from a head one by one, in their order; null where they do not. */
function headAlong(from: Head | null, further: readonly Tie[]): Head | null {
  let [seq, hash]: readonly [number, string | null] = from ?? [0, null];
  for (const tie of further) {
    if (tie.prev !== hash || tie.seq !== seq + 1) return null;
    ({ seq, hash } = tie);
  }
  return hash === null ? null : [seq, hash];
}

/** `reading/`, `reading/2.4/` of `reading/2.4/tub-radius`. */
function foldersOf(name: string): string[] {
  const found: string[] = [];
  for (let at = name.indexOf('/'); at >= 0; at = name.indexOf('/', at + 1)) found.push(name.slice(0, at + 1));
  return found;
}

const byHash = (a: Kept, b: Kept): number => (a.hash < b.hash ? -1 : a.hash > b.hash ? 1 : 0);
