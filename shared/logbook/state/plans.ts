import type { Plan } from '../../plan/schema.ts';
import { canonicalOfParsed, sha256Hex } from '../canonical.ts';
import type { Entry } from '../entry.ts';
import type { Kept } from '../log.ts';
import type { Standing } from '../standing.ts';

/** A plan revision that counts. */
export interface Revision {
  /** Of the plan alone. */
  readonly hash: string;
  readonly parents: readonly string[];
  readonly plan: Plan;
  /** When it was signed, ms of UTC; the earliest where several tablets wrote the same. */
  readonly signed_ms: number;
  /** The entries that wrote it. */
  readonly entries: readonly Kept<'plan'>[];
}

/** The revisions of a casting, and which of them is in force. */
export interface Plans {
  readonly plan: Plan;
  readonly planHash: string;
  /** Every revision that counts, by hash: a release keeps the one that it was signed under. */
  readonly plans: ReadonlyMap<string, Plan>;
  /** Those that follow from revision 1, a parent before its children. */
  readonly revisions: readonly Revision[];
  /** Those that came into force one after the other, from revision 1 to the one in force. */
  readonly line: readonly Revision[];
  /** Those that no other follows: more than one while two children of one parent wait to be joined. */
  readonly heads: readonly Revision[];
}

/**
 * The revision in force: the last one that every other either led to or comes from. So two children of one parent leave
 * the parent in force until a revision follows both. It depends on the set of revisions alone.
 */
export function planInForce(standing: Standing, firstHash: string): Plans | null {
  const counting = byHash(standing.counting<'plan'>('plan'), firstHash);
  const first = counting.get(firstHash);
  if (!first) return null;
  const before = new Map<string, ReadonlySet<string>>();
  for (const r of counting.values()) before.set(r.hash, ancestorsOf(r, counting));
  const order = (a: Revision, b: Revision) =>
    before.get(a.hash)!.size - before.get(b.hash)!.size || (a.hash < b.hash ? -1 : 1);
  const revisions = [...counting.values()].filter((r) => r === first || before.get(r.hash)!.has(firstHash)).sort(order);
  const leadsTo = (a: Revision, b: Revision) => before.get(b.hash)!.has(a.hash);
  const line = revisions.filter((r) => revisions.every((o) => o === r || leadsTo(o, r) || leadsTo(r, o)));
  const inForce = line.at(-1)!;
  return {
    plan: inForce.plan,
    planHash: inForce.hash,
    plans: new Map([...counting.values()].map((r) => [r.hash, r.plan])),
    revisions,
    line,
    heads: revisions.filter((r) => !revisions.some((o) => o !== r && leadsTo(r, o))),
  };
}

/** A plan is long and never changes: hashed once. */
const hashes = new WeakMap<Entry, string>();

/** Over what was written, not over what this build reads of it. */
function hashOf({ entry }: Kept<'plan'>): string {
  const found = hashes.get(entry);
  if (found !== undefined) return found;
  const hash = sha256Hex(canonicalOfParsed((entry.body as { plan: unknown }).plan));
  hashes.set(entry, hash);
  return hash;
}

/** Revisions by hash: the same plan written twice is one revision with the parents of both. */
function byHash(written: readonly Kept<'plan'>[], firstHash: string): Map<string, Revision> {
  const found = new Map<string, Revision>();
  for (const kept of written) {
    const hash = hashOf(kept);
    const { plan, parents } = kept.body;
    // Only the casting's first plan stands without a parent, and it follows none.
    if ((parents.length === 0) !== (hash === firstHash)) continue;
    const other = found.get(hash);
    const signed_ms = Date.parse(kept.entry.recordedAt);
    found.set(hash, {
      hash,
      plan,
      parents: [...new Set([...(other?.parents ?? []), ...parents])].sort(),
      signed_ms: Math.min(signed_ms, other?.signed_ms ?? Infinity),
      entries: [...(other?.entries ?? []), kept],
    });
  }
  return found;
}

/** Everything that a revision comes from, as far as it is here. */
function ancestorsOf(revision: Revision, all: ReadonlyMap<string, Revision>): ReadonlySet<string> {
  const found = new Set<string>();
  const open = [...revision.parents];
  for (let hash = open.pop(); hash !== undefined; hash = open.pop()) {
    if (found.has(hash) || hash === revision.hash) continue;
    const parent = all.get(hash);
    if (!parent) continue;
    found.add(hash);
    open.push(...parent.parents);
  }
  return found;
}
