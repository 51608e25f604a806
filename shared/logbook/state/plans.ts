import type { Plan } from '../../plan/schema.ts';
import { canonicalJson, sha256Hex } from '../canonical.ts';
import type { Entry } from '../entry.ts';
import type { Kept } from '../log.ts';
import type { Standing } from '../standing.ts';

interface Revision {
  readonly hash: string;
  readonly parents: readonly string[];
  readonly plan: Plan;
}

/**
 * The revision in force: from revision 1 along single children. Two children of one parent leave the parent in force
 * until a revision names both.
 */
export function planInForce(
  standing: Standing,
  firstHash: string,
): { plan: Plan; planHash: string; plans: ReadonlyMap<string, Plan> } | null {
  const revisions = standing.counting<'plan'>('plan').map(revisionOf);
  const first = revisions.find((r) => r.hash === firstHash && r.parents.length === 0);
  if (!first) return null;
  const later = revisions.filter((r) => r.parents.length > 0);
  let inForce = first;
  for (let next = nextAfter(inForce, later); next && next !== inForce; next = nextAfter(inForce, later)) inForce = next;
  const plans = new Map([first, ...later].map((r) => [r.hash, r.plan]));
  return { plan: inForce.plan, planHash: inForce.hash, plans };
}

function nextAfter(current: Revision, later: readonly Revision[]): Revision | null {
  const children = distinct(later.filter((r) => r.parents.includes(current.hash)));
  if (children.length <= 1) return children[0] ?? null;
  // A revision that names every one of the other children settles which of them holds.
  const settling = children.filter((c) => children.every((o) => o === c || c.parents.includes(o.hash)));
  if (settling.length === 1) return settling[0]!;
  const joining = distinct(later.filter((r) => children.every((c) => r.parents.includes(c.hash))));
  return joining.length === 1 ? joining[0]! : null;
}

const distinct = (revisions: readonly Revision[]): Revision[] => [
  ...new Map(revisions.map((r) => [r.hash, r])).values(),
];

/** A plan is long and never changes: hashed once. */
const hashes = new WeakMap<Entry, string>();

/** Over what was written, not over what this build reads of it. */
function hashOf({ entry }: Kept<'plan'>): string {
  const found = hashes.get(entry);
  if (found !== undefined) return found;
  const hash = sha256Hex(canonicalJson((entry.body as { plan: unknown }).plan));
  hashes.set(entry, hash);
  return hash;
}

const revisionOf = (kept: Kept<'plan'>): Revision => ({
  hash: hashOf(kept),
  parents: kept.body.parents,
  plan: kept.body.plan,
});
