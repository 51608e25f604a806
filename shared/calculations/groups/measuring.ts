import { circleFit } from '../circle-fit.ts';
import { conformity } from '../conformity.ts';
import { controlChart } from '../control-chart.ts';
import { grubbs } from '../grubbs.ts';
import { lengthAt20 } from '../length-at-20.ts';
import { lobes } from '../lobes.ts';
import { planeFit } from '../plane-fit.ts';
import { samplingPlan } from '../sampling-plan.ts';
import { uncertainty } from '../uncertainty.ts';

/** The table "Measuring and judging". */
export const measuring = [
  lengthAt20,
  uncertainty,
  conformity,
  circleFit,
  lobes,
  planeFit,
  controlChart,
  grubbs,
  samplingPlan,
];
