import type { EvaluatedDesign } from './evaluate-design.ts';
import type { DerivedFigure } from './schema.ts';

/** Gravity, spin, mould and cores. */
export function shapeFigures(w: EvaluatedDesign): DerivedFigure[] {
  return [...spinFigures(w), ...mouldFigures(w), ...coreFigures(w)];
}

function spinFigures({ design, gravity, rotation }: EvaluatedDesign): DerivedFigure[] {
  const s = rotation.result;
  return [
    {
      id: 'gravity',
      name: 'Gravity at the hall',
      value: gravity.result.g_m_s2,
      unit: 'm/s²',
      decimals: 6,
      derivation: gravity.from('g_m_s2'),
      words: 'Lacks the local anomaly, up to 1e-3 m/s²; a measured value is better.',
    },
    {
      id: 'hot-radius-of-curvature',
      name: 'Radius of curvature, hot',
      value: s.hot_radius_of_curvature_m,
      unit: 'm',
      decimals: 5,
      derivation: rotation.from('hot_radius_of_curvature_m'),
    },
    {
      id: 'spin-rate',
      name: 'Spin rate',
      value: s.rotation_rate_rpm,
      unit: 'rpm',
      decimals: 5,
      derivation: rotation.from('rotation_rate_rpm'),
    },
    {
      id: 'spin-rate-low',
      name: 'Lowest spin rate',
      value: s.rate_low_rpm ?? s.rotation_rate_rpm,
      unit: 'rpm',
      decimals: 5,
      derivation: rotation.from('rate_low_rpm'),
    },
    {
      id: 'spin-rate-high',
      name: 'Highest spin rate',
      value: s.rate_high_rpm ?? s.rotation_rate_rpm,
      unit: 'rpm',
      decimals: 5,
      derivation: rotation.from('rate_high_rpm'),
    },
    {
      id: 'spin-period',
      name: 'Time of one turn',
      value: s.period_s,
      unit: 's',
      decimals: 5,
      derivation: rotation.from('period_s'),
    },
    {
      id: 'radius-change',
      name: 'Change of the radius of curvature for 0.001 rpm',
      value: (2 * design.radius_of_curvature_m) / s.rotation_rate_rpm,
      unit: 'mm',
      decimals: 2,
      words: 'R goes with 1/n², so dR = 2 R dn/n.',
    },
    {
      id: 'focal-length',
      name: 'Focal length',
      value: s.focal_length_m,
      unit: 'm',
      decimals: 3,
      derivation: rotation.from('focal_length_m'),
    },
    {
      id: 'sag',
      name: 'Sag of the face',
      value: 1000 * s.sag_m,
      unit: 'mm',
      decimals: 1,
      derivation: rotation.from('sag_m', { factor: 1000 }),
    },
  ];
}

function mouldFigures({ mould, edge_mm }: EvaluatedDesign): DerivedFigure[] {
  return [
    {
      id: 'tub-inner-diameter',
      name: 'Tub inner diameter at 20 °C',
      value: mould.result.tub_inner_diameter_mm,
      unit: 'mm',
      decimals: 2,
      derivation: mould.from('tub_inner_diameter_mm'),
    },
    {
      id: 'tub-hot-diameter',
      name: 'Tub inner diameter at the set temperature',
      value: mould.result.hot_inner_diameter_mm,
      unit: 'mm',
      decimals: 2,
      derivation: mould.from('hot_inner_diameter_mm'),
    },
    {
      id: 'glass-head',
      name: 'Glass head at the wall',
      value: edge_mm,
      unit: 'mm',
      decimals: 1,
      words: 'Centre thickness and sag: also the thickness of the edge.',
    },
  ];
}

function coreFigures(w: EvaluatedDesign): DerivedFigure[] {
  const { layout, height, greatestHeight, leastUplift, greatestUplift } = w;
  return [
    {
      id: 'core-count',
      name: 'Whole cores',
      value: layout.result.whole_count,
      unit: '',
      decimals: 0,
      derivation: layout.from('whole_count'),
    },
    {
      id: 'cut-core-count',
      name: 'Cores cut at the edge',
      value: layout.result.cut_count,
      unit: '',
      decimals: 0,
      derivation: layout.from('cut_count'),
    },
    {
      id: 'rib-fraction',
      name: 'Rib fraction',
      value: layout.result.rib_fraction,
      unit: '',
      decimals: 5,
      derivation: layout.from('rib_fraction'),
    },
    {
      id: 'core-height-least',
      name: 'Least core height',
      value: height.result.height_mm,
      unit: 'mm',
      decimals: 2,
      derivation: height.from('height_mm'),
    },
    {
      id: 'core-height-greatest',
      name: 'Greatest core height',
      value: greatestHeight.result.height_mm,
      unit: 'mm',
      decimals: 2,
      derivation: greatestHeight.from('height_mm'),
    },
    {
      id: 'core-height-count',
      name: 'Different core heights',
      value: new Set(w.wholeCores.map((core) => core.height_mm.toFixed(6))).size,
      unit: '',
      decimals: 0,
      words: 'Cores at one distance from the axis have one height.',
    },
    {
      id: 'uplift-least',
      name: 'Least lift on a core in glass',
      value: leastUplift.result.uplift_N,
      unit: 'N',
      decimals: 1,
      derivation: leastUplift.from('uplift_N'),
    },
    {
      id: 'uplift-greatest',
      name: 'Greatest lift on a core in glass',
      value: greatestUplift.result.uplift_N,
      unit: 'N',
      decimals: 1,
      derivation: greatestUplift.from('uplift_N'),
    },
  ];
}
