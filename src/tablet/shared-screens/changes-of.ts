import type { View } from '../../../shared/logbook/state/view.ts';
import { changeWords, type PlanChanges, planDifference } from '../../../shared/plan/plan-difference.ts';
import type { Plan } from '../../../shared/plan/schema.ts';

/** What a revision changes in one of its parents. */
export interface ChangesOfParent {
  readonly hash: string;
  /** Null where the parent is not on this tablet. */
  readonly parent: Plan | null;
  readonly groups: readonly PlanChanges[];
}

interface WithParents {
  readonly plan: Plan;
  readonly parents: readonly string[];
}

const found = new WeakMap<Plan, Map<string, ChangesOfParent>>();

/** What a revision changes, against each parent. Plans never change, and so neither does this. */
export const changesOf = (view: View, { plan, parents }: WithParents): ChangesOfParent[] =>
  parents.map((hash) => {
    const known = found.get(plan) ?? new Map<string, ChangesOfParent>();
    found.set(plan, known);
    const parent = view.plans.get(hash) ?? null;
    const kept = known.get(hash);
    if (kept && kept.parent === parent) return kept;
    const made = { hash, parent, groups: parent ? planDifference(parent, plan) : [] };
    known.set(hash, made);
    return made;
  });

/** What a revision changes, in one line: the first change, and how many more there are. */
export function changesLine(view: View, body: WithParents): string {
  const lines = changesOf(view, body).flatMap(({ groups }) =>
    groups.flatMap((g) => g.changes.map((c) => `${g.title}: ${changeWords(c)}`)),
  );
  if (lines.length === 0) return '';
  return lines.length === 1 ? lines[0]! : `${lines[0]}; and ${lines.length - 1} more`;
}
