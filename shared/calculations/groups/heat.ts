import { coolingRate } from '../cooling-rate.ts';
import { coolingStress } from '../cooling-stress.ts';
import { heatPlan } from '../heat-plan.ts';
import { slotFill } from '../slot-fill.ts';
import { thermocouple } from '../thermocouple.ts';
import { viscosity } from '../viscosity.ts';

/** The table "Heat and glass". */
export const heat = [thermocouple, viscosity, slotFill, coolingStress, coolingRate, heatPlan];
