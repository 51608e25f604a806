import type { EvaluatedDesign } from '../evaluate-design.ts';
import { heatPlanHours } from '../heat-plan-hours.ts';
import type { HeatPlan } from '../schema.ts';
import { annealEnd_C, annealHeatPlan, annealStart_C, coolDownHeatPlan, stopTemperature_C } from './heat-plan-anneal.ts';
import { afterFinish, afterStart, type OperationSheet } from './links.ts';

/** Whole hours of a heat plan; the last billionths of a soak make no hour more. */
const wholeHours = (plan: HeatPlan): number => Math.ceil(heatPlanHours(plan) - 1e-6);

/** Stage 11: fast cool, end of spinning, anneal and cool-down. */
export const anneal = (w: EvaluatedDesign): OperationSheet[] => {
  const set = w.design.set_temperature_C;
  const permitted = w.permitted.result.rate_K_h.toFixed(3);
  return [
    {
      id: '11.1',
      name: 'Fast cool',
      purpose: 'Through the devitrifying range quickly, then slow before the glass gets stiff.',
      after: [afterFinish('10.1')],
      hours: 32,
      calendar: 'clock',
      cautions: ['C01', 'C03'],
      checks: [
        'Start time and last level noted',
        'Rate of spin held',
        'Vents opened in pairs, opposite',
        'Rate within its limit on every glass channel',
        'Spread within limit',
        'Surface looked at for haze',
        'Vents shut by 650 °C',
        'No draught across the ports',
      ],
      measures: ['cooling-rate', 'cool-spread', 'spin-rate', 'surface-haze'],
      photos: ['Surface at 900 and 650 °C'],
      heatPlan: 'P3',
      rounds: 'P3, segments 9–11',
      wrong: 'White haze: devitrification at the skin; ground off later if thin.',
      usualDisposition: 'Concession; slower steps only by the engineer.',
    },
    {
      id: '11.2',
      name: 'End of spinning',
      purpose: 'Stop the table when glass no longer follows.',
      after: [afterStart('11.1', 25)],
      hours: 3,
      calendar: 'clock',
      cautions: ['C01', 'C03'],
      checks: [
        `Hottest glass channel below ${stopTemperature_C(set)} °C`,
        'Rate history of the run exported to the record',
        'Coast down, no brake',
        'Stop at the reference mark',
        'Slow turn of 0.1 rpm taken up if the plan asks for evenness',
        'Table locked after the anneal plan says so',
        'Channels all alive after the stop',
      ],
      measures: ['stop-temperature', 'spin-rate', 'spin-time-outside'],
      photos: ['Mark'],
      heatPlan: 'P3',
      wrong: `Early stop: below ${stopTemperature_C(set)} °C the surface needs years to sag, so ask when, not whether.`,
      usualDisposition: 'Concession with the estimate.',
    },
    {
      id: '11.3',
      name: 'Anneal: soak and slow range',
      purpose: `Even temperature, then down through the range at ${w.annealRate_K_h} K/h to ${annealEnd_C(set)} °C.`,
      after: [afterFinish('11.1'), afterFinish('11.2')],
      hours: wholeHours(annealHeatPlan(w)),
      calendar: 'clock',
      cautions: ['C01', 'C02'],
      sheetPer: 'day',
      checks: [
        'Rounds complete, none older than its limit',
        `Rate over 24 h fitted, shown, compared with plan and with ${permitted} K/h`,
        'Pair differences against the baseline',
        'Controller set point equals plan',
        'Hall temperature and doors noted',
        'Power per zone steady',
        'Standby plant run weekly',
        'One sensor of each pair not failing slowly: differences trended over a week',
        'No port opened',
      ],
      measures: [
        'anneal-rate',
        'through-difference',
        'pair-difference',
        'rim-centre-difference',
        'channel-drift',
        'hall-temperature',
        'hold-baseline',
      ],
      photos: ['Weekly cabinet'],
      heatPlan: 'P4',
      rounds: 'P4',
      wrong: 'A slow drift of one pair: sensor, if power is steady; glass, if power moved as well.',
      usualDisposition: `Rework is to go back up to ${annealStart_C(set)} °C and start again (engineer, days, cost); concession with stress worked out.`,
    },
    {
      id: '11.4',
      name: 'Cool-down to hall temperature',
      purpose: 'No temporary stress above the limit until glass meets hall air.',
      after: [afterFinish('11.3')],
      hours: wholeHours(coolDownHeatPlan(w)),
      calendar: 'clock',
      cautions: ['C01', 'C02'],
      sheetPer: 'day',
      checks: [
        'Rounds complete',
        'Rate and through-difference within limits',
        'No heat source shut off by season or weekend',
        'Sealing kept until the opening',
        'Below 150 °C: rate still controlled, not left to nature',
        'Band rods in travel',
        'Sounds noted',
        'Last soak at hall temperature, spread below 3 K',
      ],
      measures: [
        'cool-rate',
        'through-difference',
        'pair-difference',
        'rim-centre-difference',
        'hall-temperature',
        'hall-difference',
        'band-travel',
      ],
      photos: [],
      heatPlan: 'P5',
      rounds: 'P5',
      wrong: 'Power failure: the insulated body cools slowly by itself; note it, do not reheat fast.',
      usualDisposition: 'Resume from the temperature found, at the planned rate.',
    },
  ];
};
