import type { EvaluatedDesign } from '../evaluate-design.ts';
import type { Alarm } from '../schema.ts';
import { annealEnd_C, stopTemperature_C } from './heat-plan-anneal.ts';

const PRACTICE = 'common practice, no source';
const GLASS = ['FC', 'MC', 'BP'];

/** Rates as they are printed: nobody holds a furnace closer. */
const printed = (rate_K_h: number): number => Number(rate_K_h.toFixed(3));

/** The tablet advises; the furnace has its own alarms. */
export const alarms = (w: EvaluatedDesign): Alarm[] => [...heatAlarms(), ...glassAlarms(w), ...restAlarms(w)];

const heatAlarms = (): Alarm[] => [
  {
    id: 'A1',
    text: 'Outside band or spread: yellow now, red at the second round in a row.',
    severity: 'major',
    owner: 'crew-lead',
    call: 'the crew lead',
    watch: { on: 'band', redFrom: 2 },
    source: PRACTICE,
  },
  {
    id: 'A2',
    text: 'Rate over 1 h in P1–P3 beyond 1.2 times the plan: red.',
    severity: 'major',
    owner: 'crew-lead',
    call: 'the crew lead',
    heatPlans: ['P1', 'P2', 'P3'],
    watch: { on: 'rate', window_h: 1, times: 1.2 },
    source: PRACTICE,
  },
];

function glassAlarms(w: EvaluatedDesign): Alarm[] {
  const set = w.design.set_temperature_C;
  const permitted = w.permitted.result.rate_K_h;
  return [
    {
      id: 'A3',
      text: `Glass cooling faster than ${permitted.toFixed(3)} K/h fitted over 24 h between ${set - 10} and ${annealEnd_C(set)} °C, or ${w.belowRate_K_h.toFixed(3)} below: red, engineer called.`,
      severity: 'major',
      owner: 'process-engineer',
      call: 'the process engineer, at any hour',
      blocks: 'H10',
      heatPlans: ['P4', 'P5'],
      watch: {
        on: 'cooling',
        groups: GLASS,
        window_h: 24,
        least_h: 12,
        ranges: [
          { from_C: set - 10, to_C: annealEnd_C(set), most_K_h: printed(permitted) },
          { from_C: annealEnd_C(set), most_K_h: printed(w.belowRate_K_h) },
        ],
      },
      source: 'permitted rates of the design, by cooling-rate and cooling-stress; window: common practice, no source',
    },
    {
      id: 'A4',
      text: 'Channel jumps more than 5 K between rounds and its neighbours do not follow: sensor suspected.',
      severity: 'minor',
      owner: 'technician',
      call: 'nobody: read it again',
    },
  ];
}

function restAlarms({ design }: EvaluatedDesign): Alarm[] {
  const stop_C = stopTemperature_C(design.set_temperature_C);
  return [
    {
      id: 'A5',
      text: 'Reference junction moves more than 3 K in an hour or is above 45 °C: all emf readings doubtful.',
      severity: 'major',
      owner: 'process-engineer',
      call: 'the crew lead, then the process engineer',
      watch: { on: 'junction', groups: ['RJ'], window_h: 1, move_K: 3, most_C: 45 },
      source: PRACTICE,
    },
    {
      id: 'A6',
      text: 'Round missed: yellow; two: red to the crew lead.',
      severity: 'major',
      owner: 'crew-lead',
      call: 'the crew lead',
    },
    {
      id: 'A7',
      text: `Rate of spin outside limits while any glass channel is above ${stop_C} °C: red at once.`,
      severity: 'major',
      owner: 'crew-lead',
      call: 'the crew lead and the process engineer, at once',
      blocks: 'H09',
      heatPlans: ['P3'],
      watch: {
        on: 'spin',
        rateGroup: 'SR',
        characteristic: 'spin-rate',
        operation: '9.3',
        groups: GLASS,
        above_C: stop_C,
      },
      source: 'limits of the rate from the design; temperature: common practice, no source',
    },
    {
      id: 'A8',
      text: 'Zone power differs more than 15 % from its own last-day mean while temperature does not.',
      severity: 'minor',
      owner: 'process-engineer',
      call: 'the crew lead',
      watch: { on: 'power', groups: ['HZ'], window_h: 24, least_h: 12, share: 0.15, least_kW: 0.2, move_K: 10 },
      source: PRACTICE,
    },
    {
      id: 'A9',
      text: 'Any temperature rise of more than 1 K in P4 segment 3.',
      severity: 'major',
      owner: 'process-engineer',
      call: 'the process engineer',
      heatPlans: ['P4'],
      watch: { on: 'rise', groups: ['CR', 'WU', 'WL', ...GLASS], segment: 3, move_K: 1 },
      source: PRACTICE,
    },
    {
      id: 'A10',
      text: 'Level falling more than 2 mm/h after it had settled: leak.',
      severity: 'critical',
      owner: 'crew-lead',
      call: 'the crew lead and the process engineer, at once; the leak plan',
      blocks: 'H09',
      watch: { on: 'level', characteristic: 'melt-level', settled_mm: 0.5, window_h: 1, most_mm_h: 2 },
      source: PRACTICE,
    },
  ];
}
