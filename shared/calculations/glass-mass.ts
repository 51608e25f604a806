import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, workedOut } from './calculation.ts';
import { countCores } from './core-layout.ts';
import { notNegative, positive } from './fields.ts';
import { ribFraction } from './numeric/shape-hexagons.ts';

const input = z.strictObject({
  blank_diameter_mm: positive('must be greater than 0: a diameter'),
  radius_of_curvature_mm: positive('must be greater than 0: a radius of curvature'),
  centre_thickness_mm: positive('must be greater than 0: a thickness'),
  face_thickness_mm: notNegative('must not be negative: a thickness'),
  back_thickness_mm: notNegative('must not be negative: a thickness'),
  pitch_mm: positive('must be greater than 0: a pitch'),
  gap_mm: positive('must be greater than 0: a gap'),
  edge_margin_mm: z.optional(notNegative('must not be negative: a margin')),
  density_kg_m3: positive('must be greater than 0: a density'),
});
const output = z.strictObject({
  solid_volume_m3: z.number(),
  core_volume_m3: z.number(),
  glass_volume_m3: z.number(),
  glass_mass_kg: z.number(),
  hollow_fraction: z.number(),
  core_count: z.number(),
  cut_core_count: z.number(),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** The volumes on the way to the glass, m³. */
interface Volumes {
  readonly area_m2: number;
  readonly solid_m3: number;
  readonly plates_m3: number;
  readonly coreLayer_m3: number;
  readonly ring_m3: number;
  readonly cores_m3: number;
}

/** Volumes of the blank. @throws {RefusedInput} when face and back leave no core layer, or the margin no cores. */
function volumes(i: Input): Volumes {
  const margin = (i.edge_margin_mm ?? 0) / 1000;
  const diameter = i.blank_diameter_mm / 1000;
  const radius = diameter / 2;
  const curvature = i.radius_of_curvature_mm / 1000;
  const plates = (i.face_thickness_mm + i.back_thickness_mm) / 1000;
  const layerAtAxis = (i.centre_thickness_mm - i.face_thickness_mm - i.back_thickness_mm) / 1000;
  if (layerAtAxis <= 0)
    throw new RefusedInput('centre_thickness_mm', 'leaves no height for cores between face and back');
  if (margin >= radius) throw new RefusedInput('edge_margin_mm', 'must be less than half the diameter');
  const area_m2 = Math.PI * radius * radius;
  // Outer ring: π (a² − b²) with a² − b² = m (D − m), and the mean of r² over it is (a² + b²)/2.
  const ringArea = Math.PI * margin * (diameter - margin);
  const inner = radius - margin;
  const ringMeanSquare = (radius * radius + inner * inner) / 2;
  const coreLayer_m3 = area_m2 * (layerAtAxis + (radius / curvature) * (radius / 4));
  const ring_m3 = ringArea * (layerAtAxis + ringMeanSquare / (2 * curvature));
  const core = 1 - ribFraction(i.pitch_mm, i.gap_mm);
  return {
    area_m2,
    solid_m3: coreLayer_m3 + area_m2 * plates,
    plates_m3: area_m2 * plates,
    coreLayer_m3,
    ring_m3,
    cores_m3: core * (coreLayer_m3 - ring_m3),
  };
}

/** Glass that the blank takes, and how much of it the cores save. */
export const glassMass = defineCalculation<Input, Output>({
  name: 'glass-mass',
  title: 'Mass of glass in the blank',
  group: 'Shape and spin',
  source:
    'Geometry: cylinder, segment of a paraboloid π a² s / 2, hexagonal tiling (H. S. M. Coxeter, Introduction to Geometry)',
  formula:
    'A = π D²/4; V = A (t_c + D²/16R); V_c = V − A (t_f + t_b); V_g = A (t_f + t_b) + f V_c + (1 − f) V_ring; M = ρ V_g',
  validity: 'Cells cut by the edge are filled with cut cores; pins, spacers and fillets are not counted. Cold density.',
  version: 1,
  input,
  output,
  compute(i) {
    const cores = countCores(i);
    const v = volumes(i);
    const glass_volume_m3 = v.solid_m3 - v.cores_m3;
    return {
      solid_volume_m3: v.solid_m3,
      core_volume_m3: v.cores_m3,
      glass_volume_m3,
      glass_mass_kg: glass_volume_m3 * i.density_kg_m3,
      hollow_fraction: v.cores_m3 / v.solid_m3,
      core_count: cores.whole,
      cut_core_count: cores.cut,
    };
  },
  working(i, o) {
    const v = volumes(i);
    const rib = ribFraction(i.pitch_mm, i.gap_mm);
    const margin = i.edge_margin_mm ?? 0;
    return [
      given('D', 'diameter of the blank', i.blank_diameter_mm, 'mm'),
      given('R', 'radius of curvature', i.radius_of_curvature_mm, 'mm'),
      given('t_c', 'thickness on the axis', i.centre_thickness_mm, 'mm'),
      given('t_f', 'thickness of the face', i.face_thickness_mm, 'mm'),
      given('t_b', 'thickness of the back', i.back_thickness_mm, 'mm'),
      given('p', 'pitch of the cores', i.pitch_mm, 'mm'),
      given('g', 'gap between cores: the rib', i.gap_mm, 'mm'),
      given('m', 'margin at the edge', margin, 'mm', i.edge_margin_mm === undefined ? 'not given, none' : 'given'),
      given('ρ', 'density of the glass', i.density_kg_m3, 'kg/m³'),
      workedOut('A', 'area in plan', v.area_m2, 'm²', `π · (${figure(i.blank_diameter_mm)}/1000)² / 4`),
      workedOut(
        'V',
        'solid volume',
        o.solid_volume_m3,
        'm³',
        `${figure(v.area_m2, 8)} · (${figure(i.centre_thickness_mm)} + ${figure(i.blank_diameter_mm)}² / (16 · ${figure(i.radius_of_curvature_mm)})) / 1000`,
      ),
      workedOut(
        'V_c',
        'volume of the core layer, ribs in it',
        v.coreLayer_m3,
        'm³',
        `${figure(o.solid_volume_m3, 8)} − ${figure(v.area_m2, 8)} · (${figure(i.face_thickness_mm)} + ${figure(i.back_thickness_mm)}) / 1000`,
      ),
      workedOut(
        'f',
        'rib fraction',
        rib,
        '',
        `1 − ((${figure(i.pitch_mm)} − ${figure(i.gap_mm)}) / ${figure(i.pitch_mm)})²`,
      ),
      workedOut(
        'V_ring',
        'part of the core layer in the outer ring, solid glass',
        v.ring_m3,
        'm³',
        `π (a² − b²) (t_c − t_f − t_b + (a² + b²) / 4R), a = ${figure(i.blank_diameter_mm / 2, 8)}, b = ${figure(i.blank_diameter_mm / 2 - margin, 8)} mm`,
      ),
      workedOut(
        'V_g',
        'volume of glass',
        o.glass_volume_m3,
        'm³',
        `${figure(v.plates_m3, 8)} + ${figure(rib)} · ${figure(v.coreLayer_m3, 8)} + (1 − ${figure(rib)}) · ${figure(v.ring_m3, 8)}`,
      ),
      workedOut(
        'M',
        'mass of glass',
        o.glass_mass_kg,
        'kg',
        `${figure(i.density_kg_m3)} · ${figure(o.glass_volume_m3, 8)}`,
      ),
      workedOut(
        'hollow',
        'share of the solid volume that the cores take',
        o.hollow_fraction,
        '',
        `1 − ${figure(o.glass_volume_m3, 8)} / ${figure(o.solid_volume_m3, 8)}`,
      ),
      workedOut('N', 'whole cores', o.core_count, '', 'core-layout'),
      workedOut('N_cut', 'cores cut to the round', o.cut_core_count, '', 'core-layout'),
    ];
  },
});
