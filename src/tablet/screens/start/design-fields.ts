import type { Design } from '../../../../shared/plan/schema.ts';

export type DesignKey = keyof Design;

/** One figure of the design, as it is asked for. */
export interface DesignFieldSpec {
  readonly key: DesignKey;
  readonly label: string;
  /** The unit that is typed. */
  readonly unit: string;
  /** The typed figure times ten to this is the design's: −6 for an expansion, −2 for per cent. */
  readonly exponent?: number;
}

export interface DesignGroup {
  readonly name: string;
  readonly fields: readonly DesignFieldSpec[];
}

/** The design of a blank in the order in which an engineer knows it. Lengths are at 20 °C. */
export const designGroups: readonly DesignGroup[] = [
  {
    name: 'Blank',
    fields: [
      { key: 'blank_diameter_mm', label: 'Diameter of the blank', unit: 'mm' },
      { key: 'radius_of_curvature_m', label: 'Radius of curvature', unit: 'm' },
      { key: 'radius_tolerance_m', label: 'Its tolerance, ±', unit: 'm' },
      { key: 'centre_thickness_mm', label: 'Thickness at the centre', unit: 'mm' },
      { key: 'face_thickness_mm', label: 'Face sheet', unit: 'mm' },
      { key: 'back_thickness_mm', label: 'Back plate', unit: 'mm' },
    ],
  },
  {
    name: 'Cores',
    fields: [
      { key: 'pitch_mm', label: 'Pitch of the cores', unit: 'mm' },
      { key: 'gap_mm', label: 'Gap between cores', unit: 'mm' },
      { key: 'edge_margin_mm', label: 'Margin at the edge', unit: 'mm' },
      { key: 'core_density_kg_m3', label: 'Density of a dry core', unit: 'kg/m³' },
      { key: 'core_shrinkage', label: 'Shrinkage in the bake', unit: '%', exponent: -2 },
      { key: 'spacer_diameter_mm', label: 'Spacer under a core, ⌀', unit: 'mm' },
    ],
  },
  {
    name: 'Glass and tub',
    fields: [
      { key: 'density_kg_m3', label: 'Density of the glass', unit: 'kg/m³' },
      { key: 'glass_expansion_per_K', label: 'Expansion of the glass', unit: '10⁻⁶/K', exponent: -6 },
      { key: 'set_temperature_C', label: 'Set temperature', unit: '°C' },
      { key: 'modulus_GPa', label: 'Modulus of elasticity', unit: 'GPa' },
      { key: 'poisson', label: 'Poisson’s ratio', unit: '' },
      { key: 'diffusivity_mm2_s', label: 'Thermal diffusivity', unit: 'mm²/s' },
      { key: 'stress_optic_per_TPa', label: 'Stress-optic coefficient', unit: '1/TPa' },
      { key: 'permanent_stress_MPa', label: 'Permitted stress that stays', unit: 'MPa' },
      { key: 'temporary_stress_MPa', label: 'Permitted stress in passing', unit: 'MPa' },
      { key: 'glass_allowance', label: 'Glass added for losses', unit: '%', exponent: -2 },
      { key: 'tub_expansion_per_K', label: 'Expansion of the tub', unit: '10⁻⁶/K', exponent: -6 },
      { key: 'u_tub_expansion_per_K', label: 'Its standard uncertainty', unit: '10⁻⁶/K', exponent: -6 },
      { key: 'liner_thickness_mm', label: 'Thickness of the liner', unit: 'mm' },
    ],
  },
  {
    name: 'Hall',
    fields: [
      { key: 'latitude_deg', label: 'Latitude', unit: '°' },
      { key: 'height_m', label: 'Height above the sea', unit: 'm' },
      { key: 'rotating_mass_kg', label: 'Rotating mass', unit: 'kg' },
    ],
  },
];

export const designFields: readonly DesignFieldSpec[] = designGroups.flatMap((group) => group.fields);

export const designField = (key: string): DesignFieldSpec | undefined => designFields.find((f) => f.key === key);
