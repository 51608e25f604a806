import { characteristicById } from '../../plan/lookup.ts';
import { sameJson } from '../../plan/same-json.ts';
import type { Hold } from '../../plan/schema.ts';
import type { Revision } from './plans.ts';
import type { View } from './view.ts';

/**
 * Whether a person signed a revision that the view's plan comes from and that set limits of a characteristic which the
 * hold point needs. They may sign a technical place of it, never the independent one.
 */
export function setLimitsOf(view: View, hold: Hold, person: string): boolean {
  if (view.plans.size === 1) return false;
  return comesFrom(view).some((r) => r.entries.some((e) => e.entry.by === person) && changesLimits(view, hold, r));
}

/** The view's plan and all that it comes from, but not the first: that follows from the design. */
function comesFrom(view: View): Revision[] {
  const byHash = new Map(view.revisions.map((r) => [r.hash, r]));
  const found = new Set<Revision>();
  const open = [view.planHash];
  for (let hash = open.pop(); hash !== undefined; hash = open.pop()) {
    const revision = byHash.get(hash);
    if (!revision || found.has(revision) || revision.parents.length === 0) continue;
    found.add(revision);
    open.push(...revision.parents);
  }
  return [...found];
}

/** Limits that are as in one of its parents were set by whoever signed that one. */
const changesLimits = (view: View, hold: Hold, { plan, parents }: Revision): boolean =>
  hold.requirements.some((need) => {
    if (need.kind !== 'characteristic') return false;
    const limits = characteristicById(plan, need.characteristic)?.limits;
    return parents.every((hash) => {
      const parent = view.plans.get(hash);
      return parent && !sameJson(characteristicById(parent, need.characteristic)?.limits, limits);
    });
  });
