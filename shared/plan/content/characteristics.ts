import type { EvaluatedDesign } from '../evaluate-design.ts';
import type { Channel, Characteristic, HeatPlan } from '../schema.ts';
import { annealCharacteristics } from './characteristics-anneal.ts';
import { blankCharacteristics } from './characteristics-blank.ts';
import { coreCharacteristics } from './characteristics-cores.ts';
import { furnaceCharacteristics } from './characteristics-furnace.ts';
import { glassCharacteristics } from './characteristics-glass.ts';
import { liftCharacteristics } from './characteristics-lift.ts';
import { tubCharacteristics } from './characteristics-tub.ts';
import { turntableCharacteristics } from './characteristics-turntable.ts';

/** Every characteristic; limits from the design of the blank. */
export const characteristics = (
  w: EvaluatedDesign,
  channels: readonly Channel[],
  casting: HeatPlan,
): Characteristic[] => [
  ...turntableCharacteristics(w),
  ...tubCharacteristics(w),
  ...furnaceCharacteristics(channels.length),
  ...coreCharacteristics(w),
  ...glassCharacteristics(w, casting),
  ...annealCharacteristics(w),
  ...liftCharacteristics(w),
  ...blankCharacteristics(w),
];
