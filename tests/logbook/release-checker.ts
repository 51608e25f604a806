import { createHash } from 'node:crypto';

/**
 * Says from the written entries alone, by the words of the design on sign-off, what may be shown as released. It shares
 * nothing with the code that it checks: knowledge is walked entry by entry, verdicts are taken anew, the root is hashed
 * anew. It knows one hold point: two roles, one measured characteristic, sheets and marks that are done beforehand.
 */
export interface Written {
  readonly hash: string;
  readonly entry: {
    readonly device: string;
    readonly seq: number;
    readonly prev: string | null;
    readonly seen: Readonly<Record<string, readonly [number, string]>>;
    readonly by: string;
    readonly kind: string;
    readonly body: unknown;
  };
}

interface ReadingBody {
  readonly station: string;
  readonly value: number;
  readonly observer: string;
  readonly replaces?: string;
}
interface ReleaseBody {
  readonly role: string;
  readonly evidence: readonly string[];
  readonly evidenceHash: string;
}

/** What is asked of the hold point. */
export interface Asked {
  readonly roles: readonly string[];
  readonly stations: readonly string[];
  readonly lower: number;
  readonly upper: number;
  /** Kinds that are evidence here. */
  readonly evidence: readonly string[];
}

const sha = (...parts: readonly Buffer[]): Buffer => {
  const hash = createHash('sha256');
  for (const part of parts) hash.update(part);
  return hash.digest();
};

/** RFC 9162, section 2.1.1. */
function treeHash(leaves: readonly Buffer[]): Buffer {
  if (leaves.length === 0) return sha();
  if (leaves.length === 1) return sha(Buffer.of(0), leaves[0]!);
  let k = 1;
  while (2 * k < leaves.length) k *= 2;
  return sha(Buffer.of(1), treeHash(leaves.slice(0, k)), treeHash(leaves.slice(k)));
}

export class ReleaseChecker {
  private readonly byHash: ReadonlyMap<string, Written>;
  private readonly known = new Map<string, ReadonlySet<string>>();

  constructor(
    private readonly entries: readonly Written[],
    private readonly asked: Asked,
  ) {
    this.byHash = new Map(entries.map((e) => [e.hash, e]));
  }

  /** Null when the hold point may be shown as released, else why not. */
  whyNot(): string | null {
    const refused = this.entries.find((e) => e.entry.kind === 'refusal' && !this.isStruck(e.hash) && !this.answered(e));
    if (refused) return 'refused, and nobody in that role has signed over it';
    const releases = this.entries.filter((e) => e.entry.kind === 'release' && !this.isStruck(e.hash));
    const reasons: string[] = [];
    for (const first of releases.filter((r) => bodyOf(r).role === this.asked.roles[0]))
      for (const second of releases.filter((r) => bodyOf(r).role === this.asked.roles[1])) {
        const reason = this.againstPair(first, second);
        if (reason === null) return null;
        reasons.push(reason);
      }
    return reasons[0] ?? 'not signed by both roles';
  }

  private againstPair(first: Written, second: Written): string | null {
    if (first.entry.by === second.entry.by) return 'one person signed both';
    const { evidence } = bodyOf(first);
    if (evidence.join() !== bodyOf(second).evidence.join()) return 'the two signed different evidence';
    const independent = [first, second].some((r) => !evidence.some((hash) => this.madeBy(hash, r.entry.by)));
    if (!independent) return 'nobody independent signed';
    return this.againstEvidence(evidence) ?? this.againstRelease(first) ?? this.againstRelease(second);
  }

  private madeBy(hash: string, person: string): boolean {
    const made = this.byHash.get(hash)?.entry;
    if (!made || !['reading', 'round', 'sheet'].includes(made.kind)) return false;
    return made.by === person || (made.body as { observer?: string }).observer === person;
  }

  /** The evidence as listed: all here, none struck since, and enough to sign on. */
  private againstEvidence(evidence: readonly string[]): string | null {
    const listed = new Set(evidence);
    if (evidence.some((hash) => !this.byHash.has(hash))) return 'evidence is missing';
    const later = this.strikes().filter((s) => !listed.has(s.hash));
    if (later.some((s) => listed.has(targetOf(s)))) return 'evidence was struck';
    const struckThen = new Set(this.strikes().flatMap((s) => (listed.has(s.hash) ? [targetOf(s)] : [])));
    const stood = evidence
      .map((hash) => this.byHash.get(hash)!)
      .filter((e) => e.entry.kind === 'reading' && !struckThen.has(e.hash))
      .map((e) => ({ hash: e.hash, ...(e.entry.body as ReadingBody) }));
    const replaced = new Set(stood.flatMap((r) => r.replaces ?? []));
    const standing = stood.filter((r) => !replaced.has(r.hash));
    for (const station of this.asked.stations) {
      const there = standing.filter((r) => r.station === station);
      if (there.length === 0) return 'a station was not measured';
      if (there.some((r) => r.value < this.asked.lower || r.value > this.asked.upper)) return 'a station was outside';
    }
    return null;
  }

  /** The release itself: its root, and all that it should have known. */
  private againstRelease(release: Written): string | null {
    const { evidence, evidenceHash } = bodyOf(release);
    const sorted = [...evidence].sort();
    if (sorted.join() !== evidence.join()) return 'the evidence is not sorted';
    if (treeHash(sorted.map((h) => Buffer.from(h, 'hex'))).toString('hex') !== evidenceHash) return 'another root';
    const listed = new Set(evidence);
    const unknown = this.entries.some(
      (e) => this.isEvidence(e) && !listed.has(e.hash) && !this.knownTo(e).has(release.hash),
    );
    return unknown ? 'evidence that the signer had not seen' : null;
  }

  private isEvidence(e: Written): boolean {
    if (this.asked.evidence.includes(e.entry.kind)) return true;
    if (e.entry.kind !== 'strike') return false;
    const target = this.byHash.get(targetOf(e));
    return target !== undefined && this.asked.evidence.includes(target.entry.kind);
  }

  private answered(refusal: Written): boolean {
    const { role } = refusal.entry.body as { role: string };
    return this.entries.some(
      (e) =>
        e.entry.kind === 'release' &&
        bodyOf(e).role === role &&
        !this.isStruck(e.hash) &&
        this.knownTo(e).has(refusal.hash),
    );
  }

  private strikes(): Written[] {
    return this.entries.filter((e) => e.entry.kind === 'strike');
  }

  private isStruck(hash: string): boolean {
    return this.strikes().some((s) => targetOf(s) === hash);
  }

  /** Every entry that the writer's tablet had when it wrote: its own line, and what lies below the heads that it merged. */
  private knownTo(e: Written): ReadonlySet<string> {
    const found = this.known.get(e.hash);
    if (found) return found;
    const all = new Set<string>();
    const before = [...(e.entry.prev === null ? [] : [e.entry.prev]), ...this.merged(e)];
    for (const hash of before) {
      all.add(hash);
      const at = this.byHash.get(hash);
      if (at) for (const h of this.knownTo(at)) if (this.wasHanded(at, h, e)) all.add(h);
    }
    this.known.set(e.hash, all);
    return all;
  }

  private merged(e: Written): string[] {
    return Object.values(e.entry.seen).map(([, hash]) => hash);
  }

  /** Taking another tablet's chain brings that chain alone; what it had merged itself comes by its own heads. */
  private wasHanded(at: Written, hash: string, to: Written): boolean {
    return at.entry.device === to.entry.device || this.byHash.get(hash)?.entry.device === at.entry.device;
  }
}

const bodyOf = (release: Written): ReleaseBody => release.entry.body as ReleaseBody;
const targetOf = (strike: Written): string => (strike.entry.body as { target: string }).target;
