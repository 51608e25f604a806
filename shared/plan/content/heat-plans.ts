import type { EvaluatedDesign } from '../evaluate-design.ts';
import { CASTING_PEAK_C, MOULD_PEAK_C } from '../hall-data.ts';
import type { HeatPlan } from '../schema.ts';
import { annealHeatPlan, annealStart_C, coolDownHeatPlan, stopTemperature_C } from './heat-plan-anneal.ts';

type Segment = HeatPlan['segments'][number];
type Round = Segment['rounds'][number];

const full = (every_h: number): Round[] => [{ extent: 'full', every_h }];

const ramp = (to_C: number, rate_K_h: number, band_K: number, spread_K: number, rounds: Round[]): Segment => ({
  to_C,
  rate_K_h,
  band_K,
  spread_K,
  rounds,
});

const soak = (to_C: number, soak_h: number, band_K: number, spread_K: number, rounds: Round[]): Segment => ({
  to_C,
  soak_h,
  band_K,
  spread_K,
  rounds,
});

const tubPreheat: HeatPlan = {
  id: 'P1',
  name: 'Tub preheat',
  operations: ['4.1'],
  start_C: 20,
  control: ['BP'],
  segments: [
    ramp(120, 10, 10, 30, full(2)),
    soak(120, 24, 8, 15, full(2)),
    ramp(600, 20, 15, 40, full(1)),
    soak(600, 12, 8, 20, full(2)),
    ramp(MOULD_PEAK_C, 20, 15, 40, full(1)),
    soak(MOULD_PEAK_C, 8, 8, 15, full(1)),
    ramp(600, 25, 20, 50, full(2)),
    { ...ramp(60, 15, 40, 50, full(4)), remark: 'or slower by nature' },
  ],
};

const coreBake: HeatPlan = {
  id: 'P2',
  name: 'Core bake',
  operations: ['7.1'],
  start_C: 20,
  control: ['FC', 'BP'],
  segments: [
    ramp(110, 8, 8, 25, full(2)),
    soak(110, 36, 6, 12, full(2)),
    ramp(350, 8, 10, 30, full(1)),
    soak(350, 24, 8, 15, full(2)),
    ramp(650, 15, 12, 30, full(1)),
    soak(650, 12, 8, 15, full(2)),
    ramp(MOULD_PEAK_C, 15, 12, 30, full(1)),
    soak(MOULD_PEAK_C, 10, 6, 12, full(1)),
    ramp(500, 20, 20, 40, full(2)),
    { ...ramp(50, 12, 40, 40, full(4)), remark: 'or slower' },
  ],
};

const casting = (set_C: number): HeatPlan => ({
  id: 'P3',
  name: 'Casting',
  operations: ['9.2', '9.3', '10.1', '11.1', '11.2'],
  start_C: 20,
  control: ['FC'],
  segments: [
    ramp(110, 5, 6, 15, full(2)),
    soak(110, 24, 5, 10, full(2)),
    ramp(set_C, 10, 8, 20, full(1)),
    { ...soak(set_C, 12, 4, 6, full(1)), remark: 'baseline' },
    ramp(750, 15, 8, 15, full(0.5)),
    {
      ...soak(750, 8, 5, 8, [...full(0.5), { extent: 'key', every_h: 0.25, operations: ['9.3'] }]),
      remark: 'H08, then spin-up',
    },
    ramp(CASTING_PEAK_C, 20, 10, 25, full(0.5)),
    {
      ...soak(CASTING_PEAK_C, 8, 6, 10, [{ extent: 'full', every_h: 0.5, remark: 'level every 15 min' }]),
      remark: '6 to 10 h',
    },
    ramp(900, 40, 20, 40, full(0.5)),
    ramp(650, 30, 15, 30, full(0.5)),
    {
      ...ramp(annealStart_C(set_C), 5, 6, 10, full(1)),
      remark: `end of spinning below ${stopTemperature_C(set_C)} °C`,
    },
  ],
});

export const castingHeatPlan = ({ design }: EvaluatedDesign): HeatPlan => casting(design.set_temperature_C);

/** Tub preheat, core bake, casting, anneal, cool-down. */
export const heatPlans = (w: EvaluatedDesign): HeatPlan[] => [
  tubPreheat,
  coreBake,
  castingHeatPlan(w),
  annealHeatPlan(w),
  coolDownHeatPlan(w),
];

export const roundRule =
  'A full round reads all channels, a key round the twelve of the short walk. A round is due on the clock; in time within ± 10 % of its interval (at least ± 5 min); later is late, missed after the next is due.';
