import type { CorePlace, EvaluatedDesign } from '../evaluate-design.ts';
import { LINER_COLD_FACTOR, MOULD_PEAK_C } from '../hall-data.ts';
import type { Characteristic, Derivation } from '../schema.ts';
import { atLeast, between, drawn, FROM_DESIGN, inWords, plusMinus, rounded, row, zeroTo } from './limits.ts';

/** A pin holds so many times the lift on the tallest core. */
const PIN_MARGIN = 2.1;

/** Stages 6 and 7: liner, cores, pins, gaps and the bake. */
export const coreCharacteristics = (w: EvaluatedDesign): Characteristic[] => [
  ...linerRows(w),
  ...receiptRows(w),
  ...settingRows(w),
  ...gapRows(w),
  ...heightRows(w),
  ...bakeRows(),
];

function linerRows({ design, mould }: EvaluatedDesign): Characteristic[] {
  const settled = design.liner_thickness_mm;
  const cold = rounded(settled * LINER_COLD_FACTOR, 1);
  return [
    row({
      id: 'liner-thickness',
      name: 'Liner, thickness at the fixed pressure',
      operations: ['6.1', '7.2'],
      unit: 'mm',
      stations: 'T24x3',
      limits: [
        plusMinus(cold, 0.5, { operations: ['6.1'], remark: 'cold, as laid' }),
        plusMinus(settled, 0.5, { operations: ['7.2'], remark: 'after the bake; spots' }),
      ],
      uncertainty: 0.12,
      instruments: ['FT'],
      decimals: 1,
    }),
    row({
      id: 'liner-inner-diameter',
      name: 'Liner, inner diameter',
      operations: ['6.1'],
      unit: 'mm',
      stations: 'D12x3',
      limits: [
        plusMinus(rounded(mould.result.tub_inner_diameter_mm - 2 * cold, 2), 1.5, {
          derivation: mould.from('tub_inner_diameter_mm', { addend: -2 * cold }),
          remark: `the tub as it was found less ${rounded(2 * cold, 1)} mm; here from its nominal`,
        }),
      ],
      uncertainty: 0.25,
      instruments: ['RA'],
      decimals: 2,
      source: FROM_DESIGN,
    }),
    row({
      id: 'liner-joint-gap',
      name: 'Liner, gap at the joint',
      operations: ['6.1', '7.3'],
      unit: 'mm',
      each: 'joint',
      limits: [zeroTo(0.5)],
      uncertainty: 0.1,
      instruments: ['TG'],
      decimals: 1,
    }),
  ];
}

function receiptRows(w: EvaluatedDesign): Characteristic[] {
  const received = 1 / (1 - w.design.core_shrinkage);
  return [
    row({
      id: 'core-across-flats',
      name: 'Cores, across flats',
      operations: ['6.2'],
      unit: 'mm',
      stations: 'C',
      places: [1, 2, 3].map((n) => ({ id: `flat-${n}`, label: `flats ${n}` })),
      limits: [
        plusMinus(rounded(w.across_flats_received_mm, 1), 0.5, {
          remark: `${w.across_flats_mm} mm after the bake, which takes ${rounded(100 * w.design.core_shrinkage, 2)} %`,
        }),
      ],
      uncertainty: 0.1,
      instruments: ['CA'],
      decimals: 2,
    }),
    row({
      id: 'core-height-received',
      name: 'Cores, height as received',
      operations: ['6.2'],
      unit: 'mm',
      stations: 'C',
      limits: [
        byCore(w, (height) => height * received, 0.6, {
          derivation: w.height.from('height_mm', { factor: received, stationInput: 'distance_from_axis_mm' }),
        }),
      ],
      uncertainty: 0.1,
      instruments: ['HG'],
      decimals: 2,
      source: FROM_DESIGN,
    }),
    row({
      id: 'core-squareness',
      name: 'Cores, out of square over the height',
      operations: ['6.2'],
      unit: 'mm',
      stations: 'C',
      limits: [zeroTo(0.8)],
      uncertainty: 0.1,
      instruments: ['HG'],
      decimals: 2,
      sampling: drawn(50),
    }),
    row({
      id: 'core-mass',
      name: 'Cores, mass against volume and density',
      operations: ['6.2'],
      unit: '%',
      stations: 'C',
      limits: [plusMinus(0, 6, { remark: `of volume · ${w.design.core_density_kg_m3} kg/m³` })],
      uncertainty: 0.3,
      instruments: ['BS'],
      decimals: 1,
    }),
    row({
      id: 'core-moisture',
      name: 'Cores, moisture by mass',
      operations: ['6.2'],
      unit: '%',
      each: 'lot',
      limits: [zeroTo(1)],
      uncertainty: 0.1,
      instruments: ['BS'],
      decimals: 1,
      sampling: inWords('3 a lot'),
    }),
  ];
}

/** Limits about a height of each core, from that of the core at the centre; offsets by address. */
function byCore(
  w: EvaluatedDesign,
  wanted: (coreHeight_mm: number, core: CorePlace) => number,
  tolerance: number,
  how: { operations?: string[]; derivation: Derivation },
) {
  const [centre] = w.wholeCores;
  const nominal = rounded(wanted(centre!.height_mm, centre!), 2);
  const offsets = w.wholeCores
    .map((core): [string, number] => [core.address, rounded(rounded(wanted(core.height_mm, core), 2) - nominal, 2)])
    .filter(([, offset]) => offset !== 0);
  return plusMinus(nominal, tolerance, { ...how, offsetByStation: Object.fromEntries(offsets) });
}

function settingRows(w: EvaluatedDesign): Characteristic[] {
  const count = w.wholeCores.length;
  const pull = 10 * Math.ceil((PIN_MARGIN * w.greatestUplift.result.uplift_N) / 10);
  const pullLimit = atLeast(pull, {
    remark: `${PIN_MARGIN} times the lift on the tallest core, ${w.greatestUplift.result.uplift_N.toFixed(1)} N, rounded up to tens`,
  });
  const pin = { unit: 'N', stations: 'C', limits: [pullLimit], uncertainty: 5, instruments: ['PG'], decimals: 0 };
  const counted = { operations: ['6.3'], kind: 'count' as const, decimals: 0 };
  const complete = [{ ...atLeast(count), nominal: count, remark: 'one a whole core' }];
  return [
    row({ id: 'pin-pull', name: 'Pins, pull held for 10 s', operations: ['6.3'], ...pin, source: FROM_DESIGN }),
    row({
      id: 'pin-pull-repeat',
      name: 'Pins, pull held after the bake',
      operations: ['7.2'],
      ...pin,
      sampling: drawn(25),
      source: FROM_DESIGN,
    }),
    row({ id: 'pin-count', name: 'Pins in place', unit: 'pins', limits: complete, ...counted, source: FROM_DESIGN }),
    row({
      id: 'spacer-count',
      name: 'Spacers in place',
      unit: 'spacers',
      limits: complete,
      ...counted,
      source: FROM_DESIGN,
    }),
    row({
      id: 'core-position',
      name: 'Cores, distance from their place',
      operations: ['6.3', '6.4'],
      unit: 'mm',
      stations: 'C',
      limits: [zeroTo(1, { remark: 'place by core-layout' })],
      uncertainty: 0.25,
      instruments: ['TP', 'TG'],
      decimals: 2,
      sampling: drawn(60),
    }),
  ];
}

function gapRows({ design, across_flats_received_mm }: EvaluatedDesign): Characteristic[] {
  return [
    row({
      id: 'core-gap',
      name: 'Gap between neighbouring cores',
      operations: ['6.3', '6.4', '7.2'],
      unit: 'mm',
      stations: 'CP',
      places: [
        { id: 'top', label: '30 mm under the top' },
        { id: 'foot', label: '30 mm above the floor' },
      ],
      limits: [
        plusMinus(rounded(design.pitch_mm - across_flats_received_mm, 1), 1.2, {
          operations: ['6.3', '6.4'],
          remark: 'before the bake',
        }),
        plusMinus(design.gap_mm, 1.2, { operations: ['7.2'], remark: 'after the bake' }),
      ],
      uncertainty: 0.15,
      instruments: ['TG'],
      decimals: 2,
      sampling: { all: false, count: 50, allIn: ['6.3'], words: '6.3 all, else plan 50 cores' },
    }),
    row({
      id: 'gap-mean',
      name: 'Mean gap of all sampled',
      operations: ['7.2'],
      unit: 'mm',
      kind: 'derived',
      limits: [plusMinus(design.gap_mm, 0.3)],
      uncertainty: 0.03,
      instruments: ['TG'],
      decimals: 2,
      derivedFrom: { calculation: null, characteristics: ['core-gap'], words: 'Mean of the gaps read in 7.2.' },
    }),
    row({
      id: 'core-to-liner',
      name: 'Edge cores, distance to the liner',
      operations: ['6.4', '7.2'],
      unit: 'mm',
      stations: 'edge-cores',
      limits: [{ ...atLeast(design.edge_margin_mm - 5), nominal: design.edge_margin_mm }],
      uncertainty: 0.2,
      instruments: ['TG'],
      decimals: 1,
    }),
    row({
      id: 'gap-debris-count',
      name: 'Gaps with something in them',
      operations: ['7.3'],
      unit: 'gaps',
      kind: 'count',
      limits: [zeroTo(0)],
      method: 'by eye, every gap lit and looked down',
      decimals: 0,
    }),
  ];
}

function heightRows(w: EvaluatedDesign): Characteristic[] {
  const { design } = w;
  const received = 1 / (1 - design.core_shrinkage);
  const shrinkage = rounded(100 * design.core_shrinkage, 2);
  const topOf = (factor: number): Derivation =>
    w.height.from('height_mm', {
      factor,
      addend: design.back_thickness_mm,
      stationInput: 'distance_from_axis_mm',
    });
  return [
    row({
      id: 'core-top-height',
      name: 'Cores, height of the top above the floor plane',
      operations: ['6.4', '7.2'],
      unit: 'mm',
      stations: 'C',
      limits: [
        byCore(w, (height) => design.back_thickness_mm + height * received, 0.8, {
          operations: ['6.4'],
          derivation: topOf(received),
        }),
        byCore(w, (height) => design.back_thickness_mm + height, 0.8, { operations: ['7.2'], derivation: topOf(1) }),
      ],
      uncertainty: 0.15,
      instruments: ['OL'],
      decimals: 2,
      source: FROM_DESIGN,
    }),
    row({
      id: 'core-height-change',
      name: 'Cores, change of height in the bake',
      operations: ['7.2'],
      unit: '%',
      kind: 'derived',
      stations: 'C',
      limits: [between(-shrinkage, -2 * shrinkage, 0, { remark: 'and no signal of the control-chart' })],
      uncertainty: 0.06,
      instruments: ['OL'],
      decimals: 2,
      derivedFrom: {
        calculation: 'control-chart',
        characteristics: ['core-top-height'],
        words: 'Top in 7.2 less top in 6.4, over the height of the core.',
      },
    }),
    row({
      id: 'face-sheet-thickness',
      name: 'Face sheet over the core, worked out',
      operations: ['7.3'],
      unit: 'mm',
      kind: 'derived',
      stations: 'C',
      limits: [plusMinus(design.face_thickness_mm, 1)],
      uncertainty: 0.15,
      instruments: ['OL'],
      decimals: 2,
      derivedFrom: {
        calculation: null,
        characteristics: ['core-top-height'],
        words: `${design.centre_thickness_mm} + r²/2R less the top in 7.2.`,
      },
    }),
  ];
}

const bakeRows = (): Characteristic[] => [
  row({
    id: 'bake-peak',
    name: 'Bake, peak of the coldest core channel',
    operations: ['7.1'],
    unit: '°C',
    limits: [between(MOULD_PEAK_C, MOULD_PEAK_C - 5, MOULD_PEAK_C + 15)],
    uncertainty: 1.5,
    instruments: ['TS', 'VR'],
    decimals: 1,
  }),
  row({
    id: 'bake-spread',
    name: 'Bake, spread of FC and BP at the peak',
    operations: ['7.1'],
    unit: 'K',
    limits: [zeroTo(12)],
    uncertainty: 0.6,
    instruments: ['TS'],
    decimals: 1,
    sampling: inWords('by round'),
  }),
];
