import type { Plan } from '../../plan/schema.ts';
import { canonicalJson, sha256Hex } from '../canonical.ts';
import type { Body, Kind } from '../kinds.ts';
import type { Kept, Log } from '../log.ts';
import { Standing } from '../standing.ts';
import type { Judge } from './derived-value.ts';
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

/** Answers kept until the log grows. */
export class Memo {
  private version = -1;
  private readonly kept = new Map<string, unknown>();

  constructor(private readonly log: Log) {}

  get<T>(key: string, work: () => T): T {
    if (this.version !== this.log.version) {
      this.kept.clear();
      this.version = this.log.version;
    }
    if (!this.kept.has(key)) this.kept.set(key, work());
    return this.kept.get(key) as T;
  }
}

/** The view of a log, or null while its genesis or first plan is not here. */
export function viewOf(log: Log, judge: Judge | null, standing = new Standing(log)): View | null {
  const genesis = standing.counting<'genesis'>('genesis')[0];
  if (!genesis) return null;
  const inForce = planInForce(standing, genesis.body.planHash);
  if (!inForce) return null;
  return { log, standing, genesis: genesis.body, ...inForce, judge, memo: new Memo(log) };
}

/** The hash that names a plan. */
export const planHashOf = (plan: unknown): string => sha256Hex(canonicalJson(plan));

/** Lets a list of one kind pass where any kind is taken: `Kept` is invariant in its body. */
export const anyKind = <K extends Kind>(kept: Kept<K>): Kept => kept as unknown as Kept;
