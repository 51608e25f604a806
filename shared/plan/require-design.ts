import { issueMessage, RefusedInput } from '../calculations/calculation.ts';
import { countCores } from '../calculations/core-layout.ts';
import { type Design, designSchema } from './design.ts';

/** More cores than this is a slip of the keys, not a blank. */
const MOST_CORES = 2000;

type Rule = readonly [key: keyof Design, isRight: (d: Design) => boolean, message: string];

/** What no single calculation refuses. */
const fieldRules: readonly Rule[] = [
  ['blank_diameter_mm', (d) => d.blank_diameter_mm > 0, 'must be greater than 0: a diameter'],
  ['radius_of_curvature_m', (d) => d.radius_of_curvature_m > 0, 'must be greater than 0: a radius of curvature'],
  ['centre_thickness_mm', (d) => d.centre_thickness_mm > 0, 'must be greater than 0: a thickness'],
  ['face_thickness_mm', (d) => d.face_thickness_mm > 0, 'must be greater than 0: a face sheet'],
  ['back_thickness_mm', (d) => d.back_thickness_mm > 0, 'must be greater than 0: a back plate'],
  [
    'centre_thickness_mm',
    (d) => d.centre_thickness_mm > d.face_thickness_mm + d.back_thickness_mm,
    'leaves no height for a core between face and back',
  ],
  [
    'set_temperature_C',
    (d) => d.set_temperature_C >= 300 && d.set_temperature_C <= 640,
    'must lie between 300 and 640 °C: the heat plans hold for glasses that set there',
  ],
  ['radius_tolerance_m', (d) => d.radius_tolerance_m > 0, 'must be greater than 0: a tolerance'],
  ['pitch_mm', (d) => d.pitch_mm > 0, 'must be greater than 0: a pitch'],
  ['gap_mm', (d) => d.gap_mm > 0, 'must be greater than 0: a gap'],
  ['gap_mm', (d) => d.gap_mm < d.pitch_mm, 'must be less than the pitch'],
  ['edge_margin_mm', (d) => d.edge_margin_mm >= 0, 'must not be negative: a margin'],
  ['u_tub_expansion_per_K', (d) => d.u_tub_expansion_per_K >= 0, 'must not be negative: an uncertainty'],
  ['core_density_kg_m3', (d) => d.core_density_kg_m3 > 0, 'must be greater than 0: a density'],
  ['core_density_kg_m3', (d) => d.core_density_kg_m3 < d.density_kg_m3, 'must be less than the density of the glass'],
  ['core_shrinkage', (d) => d.core_shrinkage >= 0, 'must not be negative: a shrinkage'],
  ['core_shrinkage', (d) => d.core_shrinkage <= 0.05, 'is above 0.05: no core holds its place then'],
  ['permanent_stress_MPa', (d) => d.permanent_stress_MPa > 0, 'must be greater than 0: a permitted stress'],
  ['temporary_stress_MPa', (d) => d.temporary_stress_MPa > 0, 'must be greater than 0: a permitted stress'],
  ['stress_optic_per_TPa', (d) => d.stress_optic_per_TPa > 0, 'must be greater than 0: a stress-optic coefficient'],
  ['rotating_mass_kg', (d) => d.rotating_mass_kg > 0, 'must be greater than 0: a mass'],
  ['glass_allowance', (d) => d.glass_allowance >= 0 && d.glass_allowance <= 0.5, 'must lie between 0 and 0.5'],
];

/** Judged once the layout is known to be sound, so that a slip in the pitch is not blamed on the spacers. */
const coreRules: readonly Rule[] = [
  [
    'spacer_diameter_mm',
    (d) => d.spacer_diameter_mm >= 0 && d.spacer_diameter_mm < d.pitch_mm - d.gap_mm,
    'must not be negative, and less than the core is across flats',
  ],
];

function requireRules(design: Design, rules: readonly Rule[]): void {
  const broken = rules.find(([, isRight]) => !isRight(design));
  if (broken) throw new RefusedInput(broken[0], broken[2]);
}

/** In these units no number of a design comes near this; beyond, results overflow. */
const GREATEST = 1e6;

function requireOurUnits(design: Design): void {
  const far = Object.entries(design).find(([, value]) => Math.abs(value) > GREATEST);
  if (far) throw new RefusedInput(far[0], `is beyond ${GREATEST}: not a number of a blank in this unit`);
}

function requireSomeCores(design: Design): void {
  const { whole, cut } = countCores(design);
  if (whole === 0) throw new RefusedInput('pitch_mm', 'leaves room for no whole core');
  if (whole + cut > MOST_CORES) throw new RefusedInput('pitch_mm', `asks for more than ${MOST_CORES} cores`);
}

/**
 * A design that can be cast, as far as arithmetic can tell.
 * @throws {RefusedInput} with the path of the first field that is to blame
 */
export function requireDesign(candidate: unknown): Design {
  const parsed = designSchema.safeParse(candidate, { error: issueMessage });
  if (!parsed.success) {
    const issue = parsed.error.issues[0]!;
    throw new RefusedInput(issue.path.map(String).join('.'), issue.message);
  }
  const design = parsed.data;
  requireOurUnits(design);
  requireRules(design, fieldRules);
  requireSomeCores(design);
  requireRules(design, coreRules);
  return design;
}
