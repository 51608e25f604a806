import type { EvaluatedDesign } from '../evaluate-design.ts';
import type { HeatPlan } from '../schema.ts';

/** What the anneal and the cool-down take from the design: temperatures from the set one, rates from the stresses. */
type Cooling = Pick<
  EvaluatedDesign,
  'design' | 'annealRate_K_h' | 'relaxingRate_K_h' | 'settingRate_K_h' | 'coolRate_K_h' | 'lastCoolRate_K_h'
>;

/** Above the set temperature: what the fast cool left relaxes there within minutes. */
export const annealStart_C = (set_C: number): number => set_C + 5;
/** Well below the strain point, since slowly cooled glass sets below it. */
export const annealEnd_C = (set_C: number): number => set_C - 100;
/** Below this the glass no longer follows the rotation within days. */
export const stopTemperature_C = (set_C: number): number => set_C + 40;
const HALL_C = 35;

export function annealHeatPlan(w: Cooling): HeatPlan {
  const set = w.design.set_temperature_C;
  return {
    id: 'P4',
    name: 'Anneal',
    operations: ['11.3'],
    start_C: annealStart_C(set),
    control: ['FC', 'MC', 'BP'],
    segments: [
      {
        to_C: annealStart_C(set),
        soak_h: 48,
        band_K: 2,
        spread_K: 3,
        rounds: [
          { extent: 'full', every_h: 4 },
          { extent: 'key', every_h: 1 },
        ],
        remark: 'baseline again',
      },
      {
        to_C: set - 10,
        rate_K_h: w.relaxingRate_K_h,
        band_K: 1.5,
        spread_K: 3,
        rounds: [
          { extent: 'full', every_h: 4 },
          { extent: 'key', every_h: 2 },
        ],
      },
      {
        to_C: annealEnd_C(set),
        rate_K_h: w.annealRate_K_h,
        band_K: 1,
        spread_K: 3,
        rounds: [
          { extent: 'full', every_h: 4 },
          { extent: 'key', every_h: 2 },
        ],
      },
    ],
  };
}

export function coolDownHeatPlan(w: Cooling): HeatPlan {
  const set = w.design.set_temperature_C;
  return {
    id: 'P5',
    name: 'Cool-down',
    operations: ['11.4'],
    start_C: annealEnd_C(set),
    control: ['FC', 'MC', 'BP'],
    segments: [
      {
        to_C: set - 160,
        rate_K_h: w.settingRate_K_h,
        band_K: 2,
        spread_K: 4,
        rounds: [
          { extent: 'full', every_h: 6 },
          { extent: 'key', every_h: 2 },
        ],
      },
      {
        to_C: 100,
        rate_K_h: w.coolRate_K_h,
        band_K: 4,
        spread_K: 6,
        rounds: [
          { extent: 'full', every_h: 8 },
          { extent: 'key', every_h: 4 },
        ],
      },
      {
        to_C: HALL_C,
        rate_K_h: w.lastCoolRate_K_h,
        band_K: 4,
        spread_K: 6,
        rounds: [
          { extent: 'full', every_h: 8 },
          { extent: 'key', every_h: 4 },
        ],
      },
      { to_C: HALL_C, soak_h: 24, band_K: 3, spread_K: 3, rounds: [{ extent: 'full', every_h: 8 }] },
    ],
  };
}
