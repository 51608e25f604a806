import { bandMismatch } from '../band-mismatch.ts';
import { conductionSlab } from '../conduction-slab.ts';
import { coolingRate } from '../cooling-rate.ts';
import { coolingStress } from '../cooling-stress.ts';
import { heatPlan } from '../heat-plan.ts';
import { rate } from '../rate.ts';
import { sensorCorrection } from '../sensor-correction.ts';
import { settling } from '../settling.ts';
import { slotFill } from '../slot-fill.ts';
import { thermocouple } from '../thermocouple.ts';
import { thermocoupleTolerance } from '../thermocouple-tolerance.ts';
import { viscoelasticSlab } from '../viscoelastic-slab.ts';
import { viscosity } from '../viscosity.ts';

/** The table "Heat and glass". */
export const heat = [
  thermocouple,
  thermocoupleTolerance,
  sensorCorrection,
  viscosity,
  slotFill,
  coolingStress,
  coolingRate,
  viscoelasticSlab,
  conductionSlab,
  heatPlan,
  rate,
  settling,
  bandMismatch,
];
