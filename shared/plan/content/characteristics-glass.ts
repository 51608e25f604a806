import type { EvaluatedDesign } from '../evaluate-design.ts';
import { BALANCE_GRADE_MM_S, CASTING_PEAK_C } from '../hall-data.ts';
import type { Characteristic, HeatPlan, Limits } from '../schema.ts';
import { stopTemperature_C } from './heat-plan-anneal.ts';
import { atMost, between, FROM_DESIGN, inWords, noLimit, plusMinus, repeated, rounded, row, zeroTo } from './limits.ts';

/** Stages 8 to 11.2: blocks, load, firing, melt and fast cool. */
export const glassCharacteristics = (w: EvaluatedDesign, casting: HeatPlan): Characteristic[] => [
  ...blockRows(w),
  ...loadRows(w),
  ...firingRows(casting),
  ...meltRows(w),
  ...fastCoolRows(w, casting),
];

const blockRows = ({ design }: EvaluatedDesign): Characteristic[] => [
  row({
    id: 'block-mass',
    name: 'Blocks, mass',
    operations: ['8.1'],
    unit: 'kg',
    each: 'block',
    limits: [between(null, 1.5, 9, { remark: 'wanted: 2 to 8 kg' })],
    uncertainty: 0.005,
    instruments: ['PS'],
    decimals: 3,
  }),
  row({
    id: 'block-thickness',
    name: 'Blocks, greatest thickness',
    operations: ['8.1'],
    unit: 'mm',
    each: 'block',
    limits: [atMost(120)],
    uncertainty: 0.5,
    instruments: ['CA'],
    decimals: 0,
  }),
  row({
    id: 'block-inclusions',
    name: 'Blocks, bubbles over 1 mm',
    operations: ['8.1'],
    unit: 'inclusions',
    kind: 'count',
    each: 'block',
    limits: [zeroTo(5, { remark: 'stones: none' })],
    method: 'by eye with a scale',
    decimals: 0,
  }),
  row({
    id: 'glass-density',
    name: 'Glass, density',
    operations: ['8.1'],
    unit: 'kg/m³',
    each: 'melt',
    limits: [plusMinus(design.density_kg_m3, 10)],
    uncertainty: 2,
    instruments: ['BS'],
    decimals: 0,
    sampling: inWords('3 a melt'),
  }),
  row({
    id: 'glass-expansion',
    name: 'Glass, expansion by certificate',
    operations: ['8.1'],
    unit: '1e-6/K',
    each: 'melt',
    limits: [
      plusMinus(rounded(design.glass_expansion_per_K * 1e6, 2), 0.1, {
        range: 0.05,
        remark: 'and melts within 0.05 of each other',
      }),
    ],
    uncertainty: 0.02,
    method: 'certificate',
    decimals: 2,
    sampling: inWords('all melts'),
  }),
];

function loadRows(w: EvaluatedDesign): Characteristic[] {
  const load = rounded(w.load_kg, 1);
  return [
    row({
      id: 'mass-loaded',
      name: 'Mass of glass loaded',
      operations: ['8.2'],
      unit: 'kg',
      limits: [
        between(
          load,
          rounded(load - Math.round(0.55 * w.face_kg_mm), 1),
          rounded(load + Math.round(0.85 * w.face_kg_mm), 1),
          {
            derivation: w.glass.from('glass_mass_kg', {
              factor: 1 + w.design.glass_allowance,
              addend: -w.spacers_kg * (1 + w.design.glass_allowance),
            }),
            remark: 'or as recomputed from the surveyed gaps and tops: (glass-mass less spacers) and the allowance',
          },
        ),
      ],
      uncertainty: 0.3,
      instruments: ['PS'],
      decimals: 1,
      source: FROM_DESIGN,
    }),
    row({
      id: 'unbalance',
      name: 'Unbalance of the load about the axis',
      operations: ['8.2'],
      unit: 'kg·m',
      kind: 'derived',
      limits: [zeroTo(10, { remark: `set by bearing and drive; grade G ${BALANCE_GRADE_MM_S} would allow far more` })],
      uncertainty: 0.8,
      instruments: ['PS', 'TP'],
      decimals: 1,
      derivedFrom: {
        calculation: 'load-balance',
        characteristics: ['block-mass'],
        words: 'Mass and place of every block that lies in the mould.',
      },
    }),
    row({
      id: 'block-count-agreement',
      name: 'Blocks in the mould against the list, difference',
      operations: ['8.2'],
      unit: 'blocks',
      kind: 'count',
      limits: [zeroTo(0)],
      decimals: 0,
    }),
    row({
      id: 'stack-height',
      name: 'Highest block, height of the stack',
      operations: ['8.2'],
      unit: 'mm',
      limits: [atMost(150, { remark: 'under the roof' })],
      uncertainty: 5,
      instruments: ['TP'],
      decimals: 0,
    }),
  ];
}

/** One limit a segment: the least of all as the base, the others as offsets. */
function bySegment(casting: HeatPlan, first: number, last: number, limit: (index: number) => number): Limits {
  const numbers = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  const base = Math.min(...numbers.map(limit));
  const offsets = numbers.map((n): [string, number] => [`${casting.id}.${n}`, rounded(limit(n) - base, 6)]);
  return atMost(base, { offsetByStation: Object.fromEntries(offsets.filter(([, by]) => by !== 0)) });
}

function firingRows(casting: HeatPlan): Characteristic[] {
  const spread = (n: number): number => casting.segments[n - 1]!.spread_K;
  return [
    row({
      id: 'glass-zone-spread',
      name: 'Spread of FC, BP and MC',
      operations: ['9.2'],
      unit: 'K',
      stations: 'firing-segments',
      limits: [bySegment(casting, 1, 6, spread)],
      uncertainty: 0.6,
      instruments: ['TS'],
      decimals: 1,
      sampling: inWords('by round'),
    }),
    row({
      id: 'hold-baseline',
      name: 'Baseline of the pairs at an even soak',
      operations: ['9.2', '11.3'],
      unit: 'K',
      stations: 'glass-pairs-and-middle',
      limits: [plusMinus(0, 2.5, { remark: 'each; recorded, and taken off all later differences' })],
      uncertainty: 0.3,
      instruments: ['TS'],
      decimals: 2,
    }),
  ];
}

function meltRows({ edge_mm }: EvaluatedDesign): Characteristic[] {
  const cold = rounded(edge_mm, 0);
  return [
    row({
      id: 'melt-level',
      name: 'Level of the melt at the ports',
      operations: ['10.1'],
      unit: 'mm',
      stations: 'ports',
      limits: [between(cold + 3, cold - 4, cold + 7, { remark: `${cold} mm cold, some 3 mm more when hot` })],
      uncertainty: 0.7,
      instruments: ['LS'],
      decimals: 1,
      sampling: repeated('every 15 min'),
    }),
    row({
      id: 'level-remaining',
      name: 'Level still to fall',
      operations: ['10.1'],
      unit: 'mm',
      kind: 'derived',
      stations: 'ports',
      limits: [zeroTo(0.5, { remark: 'settled flag of the calculation, no guard' })],
      instruments: ['LS'],
      decimals: 2,
      sampling: inWords('hourly'),
      derivedFrom: {
        calculation: 'settling',
        characteristics: ['melt-level'],
        words: 'Fit of the level of each port, five readings or more.',
      },
    }),
    row({
      id: 'level-agreement',
      name: 'Levels of the ports, greatest less least',
      operations: ['10.1'],
      unit: 'mm',
      limits: [zeroTo(4)],
      uncertainty: 0.7,
      instruments: ['LS'],
      decimals: 1,
      sampling: repeated('hourly'),
    }),
    row({
      id: 'level-against-mass',
      name: 'Level against the mass loaded, in mm of face',
      operations: ['10.1'],
      unit: 'mm',
      limits: [plusMinus(0, 2)],
      uncertainty: 0.6,
      instruments: ['LS'],
      decimals: 1,
      sampling: inWords('once settled'),
    }),
    row({
      id: 'bubble-count',
      name: 'Bubbles over 5 mm in view',
      operations: ['10.1'],
      unit: 'bubbles',
      kind: 'count',
      stations: 'ports',
      limits: [atMost(3, { remark: 'or falling from hour to hour' })],
      method: 'by eye',
      decimals: 0,
      sampling: repeated('hourly'),
    }),
    row({
      id: 'peak-temperature',
      name: 'Peak of the coldest FC channel',
      operations: ['10.1'],
      unit: '°C',
      limits: [between(CASTING_PEAK_C, CASTING_PEAK_C - 10, CASTING_PEAK_C + 8)],
      uncertainty: 1.5,
      instruments: ['TS'],
      decimals: 1,
      sampling: repeated('by round'),
    }),
  ];
}

function fastCoolRows({ design }: EvaluatedDesign, casting: HeatPlan): Characteristic[] {
  const segment = (n: number) => casting.segments[n - 1]!;
  return [
    row({
      id: 'cooling-rate',
      name: 'Fast cool, rate',
      operations: ['11.1'],
      unit: 'K/h',
      stations: 'fast-cool-segments',
      limits: [
        {
          ...bySegment(casting, 9, 11, (n) => rounded(1.2 * (segment(n).rate_K_h ?? 0), 6)),
          remark: 'of cooling, on every glass channel: at most 1.2 times the plan',
        },
      ],
      uncertainty: 1,
      instruments: ['TS'],
      decimals: 1,
      sampling: inWords('by round'),
    }),
    row({
      id: 'cool-spread',
      name: 'Fast cool, spread of FC and BP',
      operations: ['11.1'],
      unit: 'K',
      stations: 'fast-cool-segments',
      limits: [bySegment(casting, 9, 11, (n) => segment(n).spread_K)],
      uncertainty: 0.6,
      instruments: ['TS'],
      decimals: 1,
      sampling: inWords('by round'),
    }),
    row({
      id: 'surface-haze',
      name: 'Haze on the surface',
      operations: ['11.1'],
      unit: 'grade',
      kind: 'recorded',
      limits: [noLimit('0 none, 1 veil, 2 spots, 3 white')],
      method: 'by eye',
      decimals: 0,
    }),
    row({
      id: 'stop-temperature',
      name: 'Hottest glass channel at the stop',
      operations: ['11.2'],
      unit: '°C',
      limits: [atMost(stopTemperature_C(design.set_temperature_C))],
      uncertainty: 1.2,
      instruments: ['TS'],
      decimals: 1,
      sampling: inWords('once'),
    }),
    row({
      id: 'spin-time-outside',
      name: 'Time outside the limits of the rate while hot',
      operations: ['11.2'],
      unit: 'min',
      kind: 'recorded',
      method: 'from the rate history',
      decimals: 0,
    }),
  ];
}
