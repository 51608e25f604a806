import type { Plan } from '../../plan/schema.ts';
import { canonicalJson, sha256Hex } from '../canonical.ts';
import type { Body, Kind } from '../kinds.ts';
import type { Kept, Log } from '../log.ts';
import { Standing } from '../standing.ts';
import type { Judge } from './derived-value.ts';
import { Memo } from './memo.ts';
import { planInForce } from './plans.ts';

/** One casting as this tablet knows it: what every answer is worked out from. */
export interface View {
  readonly log: Log;
  readonly standing: Standing;
  readonly genesis: Body<'genesis'>;
  /** The revision in force and its hash. */
  readonly plan: Plan;
  readonly planHash: string;
  /** Every revision that counts, by hash: a release keeps the one that it was signed under. */
  readonly plans: ReadonlyMap<string, Plan>;
  readonly judge: Judge | null;
  readonly memo: Memo;
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

/** The hash that names a plan. */
export const planHashOf = (plan: unknown): string => sha256Hex(canonicalJson(plan));

/** Lets a list of one kind pass where any kind is taken: `Kept` is invariant in its body. */
export const anyKind = <K extends Kind>(kept: Kept<K>): Kept => kept as unknown as Kept;
