import type { Plan } from '../../plan/schema.ts';
import { canonicalJson, sha256Hex } from '../canonical.ts';
import type { Body, Kind } from '../kinds.ts';
import type { Kept, Log } from '../log.ts';
import { Standing } from '../standing.ts';
import type { Judge } from './derived-value.ts';
import { type Answers, Memo, OnceAnswers } from './memo.ts';
import { type Plans, planInForce, type Revision } from './plans.ts';

/** One casting as this tablet knows it: what every answer is worked out from. */
export interface View extends Plans {
  readonly log: Log;
  readonly standing: Standing;
  readonly genesis: Body<'genesis'>;
  /** Everything is judged by this plan, also what was released under another. */
  readonly byThisPlan?: true;
  readonly judge: Judge | null;
  readonly memo: Answers;
}

const memos = new WeakMap<Log, { memo: Memo; planHash: string | null }>();

function memoOf(log: Log): { memo: Memo; planHash: string | null } {
  const found = memos.get(log);
  if (found) return found;
  const made = { memo: new Memo(log), planHash: null };
  memos.set(log, made);
  return made;
}

/** The view of a log, or null while its genesis or first plan is not here. */
export function viewOf(log: Log, judge: Judge | null, standing = new Standing(log)): View | null {
  const kept = memoOf(log);
  const { memo } = kept;
  const genesis = memo.get('genesis', () => standing.counting<'genesis'>('genesis')[0]);
  if (!genesis) return null;
  const inForce = memo.get('plan in force', () => planInForce(standing, genesis.body.planHash));
  if (!inForce) return null;
  // Answers rest on the plan in force as well as on entries.
  if (kept.planHash !== null && kept.planHash !== inForce.planHash) memo.clear();
  kept.planHash = inForce.planHash;
  return { log, standing, genesis: genesis.body, ...inForce, judge, memo };
}

/**
 * The casting with everything judged by one of its revisions, as far as that came into force; the view itself while there
 * is only one revision.
 */
export function viewUnder(view: View, planHash: string): View {
  const plan = view.plans.get(planHash);
  if (!plan || (planHash === view.planHash && (view.byThisPlan || view.plans.size === 1))) return view;
  const own = view.line.findIndex((r) => r.hash === planHash);
  const last = view.revisions.find((r) => r.hash === planHash);
  const line = own >= 0 ? view.line.slice(0, own + 1) : last ? [...signedBy(view, last), last] : view.line;
  return { ...view, plan, planHash, line, byThisPlan: true, memo: view.memo.under(planHash) };
}

const signedBy = (view: View, { signed_ms }: Revision): Revision[] =>
  view.line.filter((r, i) => i === 0 || r.signed_ms <= signed_ms);

/** The casting as it would be with one more revision in force from an instant on. Asked once, and not kept. */
export function viewWith(view: View, plan: Plan, at_ms: number): View {
  const planHash = planHashOf(plan);
  const revision: Revision = { hash: planHash, parents: [view.planHash], plan, signed_ms: at_ms, entries: [] };
  return {
    ...view,
    plan,
    planHash,
    plans: new Map([...view.plans, [planHash, plan]]),
    revisions: [...view.revisions, revision],
    line: [...view.line, revision],
    heads: [revision],
    memo: new OnceAnswers(view.memo),
  };
}

/** The same with everything judged by its plan, also what was released under another. */
export const allByItsPlan = (view: View): View => ({
  ...view,
  byThisPlan: true,
  memo: new OnceAnswers(view.memo),
});

/** The hash that names a plan. */
export const planHashOf = (plan: unknown): string => sha256Hex(canonicalJson(plan));

/** Lets a list of one kind pass where any kind is taken: `Kept` is invariant in its body. */
export const anyKind = <K extends Kind>(kept: Kept<K>): Kept => kept as unknown as Kept;
