import type { EvaluatedDesign } from '../evaluate-design.ts';
import { U_GLASS_EXPANSION_PER_K } from '../hall-data.ts';
import type { Characteristic } from '../schema.ts';
import { atMost, between, drawn, FROM_DESIGN, inWords, noLimit, plusMinus, rounded, row, zeroTo } from './limits.ts';

/** Stages 13 and 14: clean-out, cells and the finished blank. */
export const blankCharacteristics = (w: EvaluatedDesign): Characteristic[] => [
  ...washRows(w),
  ...cellRows(w),
  ...dimensionRows(w),
  ...finalRows(w),
];

function washRows(w: EvaluatedDesign): Characteristic[] {
  const dry = w.wholeCores_kg;
  return [
    row({
      id: 'wash-pressure',
      name: 'Pressure of the water jet',
      operations: ['13.2'],
      unit: 'MPa',
      limits: [noLimit('at most the trial value, set on waste glass')],
      uncertainty: 0.1,
      uncertaintyRemark: '2 % of the reading, here at 5 MPa',
      instruments: ['PG2'],
      decimals: 1,
      sampling: inWords('each shift'),
    }),
    row({
      id: 'water-glass-difference',
      name: 'Water less glass',
      operations: ['13.2'],
      unit: 'K',
      stations: 'sectors',
      limits: [plusMinus(0, 15)],
      uncertainty: 0.5,
      instruments: ['ST'],
      decimals: 1,
      sampling: inWords('hourly'),
    }),
    row({
      id: 'residue-mass',
      name: 'Residue washed out, dry, sum of all cells',
      operations: ['13.2'],
      unit: 'kg',
      limits: [
        between(rounded(dry, 0), 10 * Math.round(0.093 * dry), 10 * Math.round(0.107 * dry), {
          remark: 'volume of the whole cores by their density',
        }),
      ],
      uncertainty: 3,
      instruments: ['BS'],
      decimals: 1,
      source: FROM_DESIGN,
    }),
    row({
      id: 'cells-done',
      name: 'Cells washed out',
      operations: ['13.2'],
      unit: 'cells',
      kind: 'recorded',
      limits: [noLimit(`of ${w.wholeCores.length}`)],
      decimals: 0,
      sampling: inWords('each shift'),
    }),
  ];
}

const cellRows = (w: EvaluatedDesign): Characteristic[] => [
  row({
    id: 'cell-residue',
    name: 'Cells, residue',
    operations: ['13.3'],
    unit: 'grade',
    kind: 'grade',
    stations: 'C',
    limits: [zeroTo(1, { remark: '0 none, 1 film, 2 lump, 3 more' })],
    method: 'borescope',
    decimals: 0,
  }),
  row({
    id: 'rib-thickness',
    name: 'Ribs, thickness at mid height',
    operations: ['13.3'],
    unit: 'mm',
    stations: 'CP',
    limits: [plusMinus(w.design.gap_mm, 1.5)],
    uncertainty: 0.1,
    instruments: ['UT'],
    decimals: 2,
    sampling: drawn(50),
  }),
  row({
    id: 'face-thickness',
    name: 'Face sheet, thickness',
    operations: ['13.3', '14.1'],
    unit: 'mm',
    stations: 'C',
    limits: [plusMinus(w.design.face_thickness_mm, 1.5)],
    uncertainty: 0.1,
    instruments: ['UT'],
    decimals: 2,
  }),
  row({
    id: 'back-thickness',
    name: 'Back plate, thickness',
    operations: ['13.3', '14.1'],
    unit: 'mm',
    stations: 'C',
    limits: [plusMinus(w.design.back_thickness_mm, 1.5)],
    uncertainty: 0.1,
    instruments: ['UT'],
    decimals: 2,
    sampling: drawn(50),
  }),
  row({
    id: 'rib-window-area',
    name: 'Ribs, area of windows',
    operations: ['13.3'],
    unit: 'cm²',
    stations: 'CP',
    limits: [zeroTo(2)],
    uncertainty: 0.5,
    method: 'borescope',
    decimals: 1,
  }),
  row({
    id: 'cell-crack-length',
    name: 'Cells, length of cracks',
    operations: ['13.3'],
    unit: 'mm',
    stations: 'C',
    limits: [zeroTo(0, { remark: 'each one a finding' })],
    method: 'borescope; a crack is read to some 2 mm, none is none',
    decimals: 0,
  }),
  row({
    id: 'cell-humidity',
    name: 'Cells, humidity of the air',
    operations: ['13.3'],
    unit: '%',
    kind: 'recorded',
    stations: 'C',
    decimals: 0,
  }),
];

const dimensionRows = ({ design, edge_mm }: EvaluatedDesign): Characteristic[] => [
  row({
    id: 'blank-diameter',
    name: 'Blank, diameter at 20 °C',
    operations: ['12.2', '14.1'],
    unit: 'mm',
    stations: 'D12',
    limits: [plusMinus(design.blank_diameter_mm, 3)],
    uncertainty: 0.25,
    instruments: ['RA'],
    decimals: 2,
    at20: {
      part_expansion_per_K: design.glass_expansion_per_K,
      u_part_expansion_per_K: U_GLASS_EXPANSION_PER_K,
    },
  }),
  row({
    id: 'centre-thickness',
    name: 'Blank, thickness at the centre',
    operations: ['14.1'],
    unit: 'mm',
    limits: [plusMinus(design.centre_thickness_mm, 3)],
    uncertainty: 0.3,
    instruments: ['HG'],
    decimals: 1,
  }),
  row({
    id: 'edge-thickness',
    name: 'Blank, thickness at the edge',
    operations: ['14.1'],
    unit: 'mm',
    stations: 'edge-12',
    limits: [plusMinus(rounded(edge_mm, 1), 3, { remark: 'centre thickness and sag' })],
    uncertainty: 0.3,
    instruments: ['HG'],
    decimals: 1,
    source: FROM_DESIGN,
  }),
  row({
    id: 'radius-of-curvature',
    name: 'Face, radius of curvature',
    operations: ['14.1'],
    unit: 'm',
    stations: 'profiles-8',
    limits: [plusMinus(design.radius_of_curvature_m, design.radius_tolerance_m)],
    uncertainty: 0.004,
    instruments: ['PR'],
    decimals: 3,
  }),
];

function finalRows(w: EvaluatedDesign): Characteristic[] {
  const stress = w.anneal.result.permanent_retardation_nm_cm ?? 0;
  const permitted = 10 * w.design.stress_optic_per_TPa * w.design.permanent_stress_MPa;
  return [
    row({
      id: 'blank-mass',
      name: 'Blank, mass',
      operations: ['14.1'],
      unit: 'kg',
      limits: [
        plusMinus(rounded(w.blank_kg, 1), 5 * Math.round(0.005 * w.blank_kg), {
          derivation: w.glass.from('glass_mass_kg', { addend: -w.spacers_kg }),
          remark: 'or as recomputed from the surveyed gaps and tops',
        }),
      ],
      uncertainty: 8,
      instruments: ['PL'],
      decimals: 1,
      sampling: inWords('twice'),
      source: FROM_DESIGN,
    }),
    row({
      id: 'mass-balance',
      name: 'Loaded less blank less cuttings',
      operations: ['14.1'],
      unit: 'kg',
      kind: 'derived',
      limits: [
        between(rounded(0.0186 * w.load_kg, 0), 0, rounded(0.0394 * w.load_kg, 0), {
          remark: 'soaking-in, evaporation and skin',
        }),
      ],
      decimals: 1,
      derivedFrom: {
        calculation: null,
        characteristics: ['mass-loaded', 'blank-mass'],
        words: 'Mass loaded less mass of the blank less what was cut and ground off.',
      },
    }),
    row({
      id: 'stress-retardation',
      name: 'Stress, retardation',
      operations: ['14.1'],
      unit: 'nm/cm',
      stations: 'stress-36',
      limits: [
        {
          ...atMost(rounded(1.25 * permitted, 1)),
          nominal: rounded(stress, 1),
          derivation: w.anneal.from('permanent_retardation_nm_cm'),
        },
      ],
      uncertainty: 1,
      instruments: ['SV'],
      decimals: 1,
      source: FROM_DESIGN,
    }),
    row({
      id: 'bubble-class',
      name: 'Bubbles, class of the blank',
      operations: ['14.1'],
      unit: 'class',
      kind: 'recorded',
      method: 'by eye',
      decimals: 0,
    }),
    row({
      id: 'open-findings',
      name: 'Findings open',
      operations: ['14.2'],
      unit: 'findings',
      kind: 'count',
      limits: [zeroTo(0)],
      decimals: 0,
    }),
    row({
      id: 'chains-verified',
      name: 'Chains of tablets not verified',
      operations: ['14.2'],
      unit: 'chains',
      kind: 'count',
      limits: [zeroTo(0, { remark: 'all verified' })],
      decimals: 0,
    }),
  ];
}
