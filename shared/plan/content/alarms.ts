import type { EvaluatedDesign } from '../evaluate-design.ts';
import { annealEnd_C, stopTemperature_C } from './heat-plan-anneal.ts';

/** The tablet advises; the furnace has its own alarms. */
export function alarms(w: EvaluatedDesign) {
  const set = w.design.set_temperature_C;
  const permitted = w.permitted.result.rate_K_h.toFixed(3);
  return [
    { id: 'A1', text: 'Outside band or spread: yellow now, red at the second round in a row.' },
    { id: 'A2', text: 'Rate over 1 h in P1–P3 beyond 1.2 times the plan: red.' },
    {
      id: 'A3',
      text: `Glass cooling faster than ${permitted} K/h fitted over 24 h between ${set - 10} and ${annealEnd_C(set)} °C, or ${w.belowRate_K_h.toFixed(3)} below: red, engineer called.`,
    },
    {
      id: 'A4',
      text: 'Channel jumps more than 5 K between rounds and its neighbours do not follow: sensor suspected.',
    },
    {
      id: 'A5',
      text: 'Reference junction moves more than 3 K in an hour or is above 45 °C: all emf readings doubtful.',
    },
    { id: 'A6', text: 'Round missed: yellow; two: red to the crew lead.' },
    {
      id: 'A7',
      text: `Rate of spin outside limits while any glass channel is above ${stopTemperature_C(set)} °C: red at once.`,
    },
    { id: 'A8', text: 'Zone power differs more than 15 % from its own last-day mean while temperature does not.' },
    { id: 'A9', text: 'Any temperature rise of more than 1 K in P4 segment 3.' },
    { id: 'A10', text: 'Level falling more than 2 mm/h after it had settled: leak.' },
  ];
}
