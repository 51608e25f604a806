import { criticalPath } from '../calculations/critical-path.ts';
import { elapsedDays } from './lookup.ts';
import type { Plan } from './schema.ts';

/** The network in elapsed days: total, early and late dates and floats by operation, and the longest chain. */
export const plannedDays = (plan: Plan): ReturnType<typeof criticalPath.compute> =>
  criticalPath.compute({
    activities: plan.operations.map((operation) => ({
      id: operation.id,
      duration: elapsedDays(operation),
      after: operation.after.map(({ id, type, lag_h }) => ({ id, type, lag: lag_h / 24 })),
    })),
  });
