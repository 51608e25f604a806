import type { EvaluatedDesign } from '../evaluate-design.ts';
import { BAND_COUNT, MOULD_PEAK_C } from '../hall-data.ts';
import type { Characteristic } from '../schema.ts';
import { wallHeights } from '../station-geometry.ts';
import { atLeast, between, drawn, FROM_DESIGN, inWords, plusMinus, rounded, row, zeroTo } from './limits.ts';

const SURVEYS = ['2.4', '5.1'];

/** Each band alone carries the load of the whole wall, and so much more. */
const BAND_MARGIN = 1.4;

/** Stages 2, 4 and 5: floor, wall, bands and the size of the tub. */
export const tubCharacteristics = (w: EvaluatedDesign): Characteristic[] => [
  ...floorRows(w),
  ...wallRows(w),
  ...bandRows(w),
  ...sizeRows(w),
];

const floorRows = ({ layout }: EvaluatedDesign): Characteristic[] => [
  row({
    id: 'floor-level',
    name: 'Floor, height of the points',
    operations: ['2.1', ...SURVEYS],
    unit: 'mm',
    stations: 'F43',
    limits: [plusMinus(0, 1)],
    uncertainty: 0.12,
    instruments: ['OL'],
    decimals: 2,
  }),
  row({
    id: 'floor-flatness',
    name: 'Floor, flatness',
    operations: ['2.1', ...SURVEYS],
    unit: 'mm',
    kind: 'derived',
    limits: [zeroTo(1)],
    uncertainty: 0.12,
    instruments: ['OL'],
    decimals: 2,
    derivedFrom: {
      calculation: 'plane-fit',
      characteristics: ['floor-level'],
      words: 'Minimum zone of all floor points.',
    },
  }),
  row({
    id: 'floor-tilt',
    name: 'Floor, tilt',
    operations: SURVEYS,
    unit: 'mm/m',
    kind: 'derived',
    limits: [zeroTo(0.1)],
    uncertainty: 0.02,
    instruments: ['OL'],
    decimals: 3,
    derivedFrom: {
      calculation: 'plane-fit',
      characteristics: ['floor-level'],
      words: 'Least-squares plane of all floor points.',
    },
  }),
  row({
    id: 'floor-step',
    name: 'Floor tiles, step at the joint',
    operations: ['2.1'],
    unit: 'mm',
    each: 'joint, worst place',
    limits: [zeroTo(0.4)],
    uncertainty: 0.05,
    instruments: ['TG'],
    decimals: 2,
  }),
  row({
    id: 'floor-lattice-position',
    name: 'Pin holes, distance from their place',
    operations: ['2.1'],
    unit: 'mm',
    stations: 'C',
    limits: [zeroTo(1, { remark: `place by core-layout, ${layout.result.whole_count} holes` })],
    uncertainty: 0.25,
    instruments: ['TP'],
    decimals: 2,
    sampling: drawn(60),
  }),
  row({
    id: 'floor-tile-moisture',
    name: 'Floor tiles, moisture by mass',
    operations: ['2.1'],
    unit: '%',
    each: 'batch',
    limits: [zeroTo(0.5)],
    uncertainty: 0.05,
    instruments: ['BS'],
    decimals: 2,
    sampling: inWords('3 a batch'),
  }),
];

const wallRows = ({ edge_mm }: EvaluatedDesign): Characteristic[] => [
  row({
    id: 'stave-plumb',
    name: 'Staves, out of plumb',
    operations: ['2.2'],
    unit: 'mm/m',
    stations: 'staves',
    limits: [plusMinus(0, 1)],
    uncertainty: 0.1,
    instruments: ['FL'],
    decimals: 2,
  }),
  row({
    id: 'stave-joint',
    name: 'Staves, width of the joint',
    operations: ['2.2'],
    unit: 'mm',
    stations: 'staves',
    places: wallHeights(edge_mm).map((height) => ({ id: String(height), label: `joint after it at ${height} mm` })),
    limits: [between(1, 0.5, 2)],
    uncertainty: 0.1,
    instruments: ['TG'],
    decimals: 2,
  }),
  row({
    id: 'level-mark-zero',
    name: 'Level marks, height above the floor plane',
    operations: ['2.2', '5.1'],
    unit: 'mm',
    stations: 'ports',
    limits: [plusMinus(rounded(edge_mm, 1), 0.5, { remark: 'the mark at centre thickness and sag' })],
    uncertainty: 0.15,
    instruments: ['OL'],
    decimals: 2,
  }),
  row({
    id: 'stave-crack-length',
    name: 'Staves, length of cracks',
    operations: ['4.2'],
    unit: 'mm',
    each: 'crack',
    limits: [zeroTo(50, { remark: 'none through a stave' })],
    uncertainty: 1,
    instruments: ['TP'],
    decimals: 0,
  }),
  row({
    id: 'preheat-peak',
    name: 'Preheat, peak of the coldest tub channel',
    operations: ['4.1'],
    unit: '°C',
    limits: [between(MOULD_PEAK_C, MOULD_PEAK_C - 5, MOULD_PEAK_C + 15)],
    uncertainty: 1.5,
    instruments: ['TS', 'VR'],
    decimals: 1,
  }),
];

function bandRows({ band, bandTravel_mm }: EvaluatedDesign): Characteristic[] {
  const tension = rounded(band.result.hoop_load_kN * BAND_MARGIN, 1);
  const needed = `the heat takes ${bandTravel_mm.toFixed(1)} mm a rod`;
  return [
    row({
      id: 'band-tension',
      name: 'Bands, tension of the rods',
      operations: ['2.3', '4.2'],
      unit: 'kN',
      stations: 'band-rods',
      limits: [
        between(tension, rounded(tension * 0.9, 1), rounded(tension * 1.15, 1), {
          derivation: band.from('hoop_load_kN', { factor: BAND_MARGIN }),
          remark: 'each band alone carries the load of the whole wall, and 1.4 times that',
        }),
      ],
      uncertainty: 0.06,
      uncertaintyRemark: '1.5 % of the nominal tension',
      instruments: ['LC'],
      decimals: 1,
      source: FROM_DESIGN,
    }),
    row({
      id: 'band-travel',
      name: 'Bands, travel left in the springs',
      operations: ['2.3', '4.1', '4.2', '11.4'],
      unit: 'mm',
      stations: 'band-rods',
      limits: [
        atLeast(5 * Math.round((15 + 1.8 * bandTravel_mm) / 5), {
          operations: ['2.3', '4.2'],
          remark: `cold; ${needed}`,
        }),
        atLeast(15, { operations: ['4.1', '11.4'], remark: `at any time; ${needed}` }),
      ],
      uncertainty: 0.5,
      instruments: ['CA'],
      decimals: 1,
    }),
    row({
      id: 'band-gap-to-stave',
      name: 'Bands, gap to the stave at the pad',
      operations: ['2.3'],
      unit: 'mm',
      stations: 'staves',
      places: Array.from({ length: BAND_COUNT }, (_, i) => ({ id: `B${i + 1}`, label: `band ${i + 1}` })),
      limits: [zeroTo(0.3)],
      uncertainty: 0.05,
      instruments: ['TG'],
      decimals: 2,
    }),
  ];
}

function sizeRows({ design, mould }: EvaluatedDesign): Characteristic[] {
  const diameter = rounded(mould.result.tub_inner_diameter_mm, 2);
  const at20 = {
    part_expansion_per_K: design.tub_expansion_per_K,
    u_part_expansion_per_K: design.u_tub_expansion_per_K,
  };
  const fitted = (words: string) => ({ calculation: 'circle-fit', characteristics: ['tub-radius'], words });
  return [
    row({
      id: 'tub-radius',
      name: 'Tub, radius at 20 °C',
      operations: SURVEYS,
      unit: 'mm',
      stations: 'T24x3',
      limits: [
        plusMinus(rounded(mould.result.tub_inner_diameter_mm / 2, 2), 1.5, {
          derivation: mould.from('tub_inner_diameter_mm', { factor: 0.5 }),
        }),
      ],
      uncertainty: 0.12,
      instruments: ['RA'],
      decimals: 2,
      at20,
      source: FROM_DESIGN,
    }),
    row({
      id: 'tub-diameter-20',
      name: 'Tub, inner diameter at 20 °C',
      operations: SURVEYS,
      unit: 'mm',
      stations: 'D12x3',
      limits: [plusMinus(diameter, 1.5, { derivation: mould.from('tub_inner_diameter_mm') })],
      uncertainty: 0.2,
      instruments: ['RA'],
      decimals: 2,
      at20,
      source: FROM_DESIGN,
    }),
    row({
      id: 'tub-roundness',
      name: 'Tub, roundness',
      operations: SURVEYS,
      unit: 'mm',
      kind: 'derived',
      stations: 'heights',
      limits: [zeroTo(2)],
      uncertainty: 0.15,
      instruments: ['RA'],
      decimals: 2,
      derivedFrom: fitted('Minimum zone of the radii at one height.'),
    }),
    row({
      id: 'tub-centre-offset',
      name: 'Tub, offset of its centre from the axis',
      operations: SURVEYS,
      unit: 'mm',
      kind: 'derived',
      stations: 'heights',
      limits: [zeroTo(1)],
      uncertainty: 0.08,
      instruments: ['RA'],
      decimals: 2,
      derivedFrom: fitted('Distance of the least-squares centre from the axis at one height.'),
    }),
    row({
      id: 'tub-wall-taper',
      name: 'Tub, taper of the wall',
      operations: SURVEYS,
      unit: 'mm',
      kind: 'derived',
      limits: [zeroTo(1)],
      uncertainty: 0.15,
      instruments: ['RA'],
      decimals: 2,
      derivedFrom: {
        calculation: null,
        characteristics: ['tub-diameter-20'],
        words: 'Greatest less least mean diameter of the three heights.',
      },
    }),
    row({
      id: 'tub-temperature',
      name: 'Tub, temperature at the survey',
      operations: SURVEYS,
      unit: '°C',
      stations: 'tub-places',
      limits: [between(20, 10, 30, { range: 2 })],
      uncertainty: 0.15,
      instruments: ['ST'],
      decimals: 1,
    }),
    row({
      id: 'tub-permanent-change',
      name: 'Tub, permanent change of the diameter',
      operations: ['5.1'],
      unit: 'mm',
      kind: 'derived',
      stations: 'D12x3',
      limits: [plusMinus(0, 1.5, { remark: 'each' })],
      uncertainty: 0.2,
      instruments: ['RA'],
      decimals: 2,
      derivedFrom: {
        calculation: null,
        characteristics: ['tub-diameter-20'],
        words: 'Diameter in 5.1 less diameter in 2.4 at the same station, with the same arm.',
      },
    }),
    row({
      id: 'tub-mean-change',
      name: 'Tub, mean permanent change of the diameter',
      operations: ['5.1'],
      unit: 'mm',
      kind: 'derived',
      limits: [plusMinus(0, 1, { remark: 'mean of all stations' })],
      uncertainty: 0.2,
      instruments: ['RA'],
      decimals: 2,
      derivedFrom: {
        calculation: null,
        characteristics: ['tub-permanent-change'],
        words: 'Mean of the change over all stations; the arm is the same, so its error stays in the mean.',
      },
    }),
  ];
}
