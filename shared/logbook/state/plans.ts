import type { Plan } from '../../plan/schema.ts';
import { canonicalJson, sha256Hex } from '../canonical.ts';
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

const revisionOf = (kept: Kept<'plan'>): Revision => ({
  // Over what was written, not over what this build reads of it.
  hash: sha256Hex(canonicalJson((kept.entry.body as { plan: unknown }).plan)),
  parents: kept.body.parents,
  plan: kept.body.plan,
});
