import type { View } from '../../../shared/logbook/state/view.ts';
import type { Plan } from '../../../shared/plan/schema.ts';

/** The plan that an entry was made under; the one in force where that is not here. */
export const planOf = (view: View, hash: string): Plan => view.plans.get(hash) ?? view.plan;
