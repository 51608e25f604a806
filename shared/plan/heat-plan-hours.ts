import { heatPlan } from '../calculations/heat-plan.ts';
import { type Derived, derive } from './derive.ts';
import type { HeatPlan } from './schema.ts';

type Output = ReturnType<typeof heatPlan.compute>;

/** The heat plan in the form that the calculation takes. */
export const heatPlanInput = (plan: HeatPlan, at_h: number | number[] = 0) => ({
  start_C: plan.start_C,
  segments: plan.segments.map((s) =>
    s.soak_h === undefined ? { to_C: s.to_C, rate_K_h: s.rate_K_h ?? 0 } : { soak_h: s.soak_h },
  ),
  at_h,
});

/** Runs `heat-plan` for its total; the derivation of `total_h` comes with it. */
export const heatPlanTotal = (plan: HeatPlan): Derived<Output> => derive(heatPlan, heatPlanInput(plan));

/** Hours from the start of the heat plan to its end. */
export const heatPlanHours = (plan: HeatPlan): number => heatPlanTotal(plan).result.total_h;
