import type { Design } from './schema.ts';

/**
 * The design of the practice blank, an invented casting. Glass values are those of public data sheets of
 * borosilicate 3.3 (ISO 3585); the rest is our own choice for practice.
 */
export const practiceDesign: Design = {
  blank_diameter_mm: 3200,
  radius_of_curvature_m: 10.24,
  radius_tolerance_m: 0.02,
  centre_thickness_mm: 280,
  face_thickness_mm: 28,
  back_thickness_mm: 25,
  pitch_mm: 180,
  gap_mm: 12,
  edge_margin_mm: 25,
  density_kg_m3: 2230,
  glass_expansion_per_K: 3.3e-6,
  set_temperature_C: 560,
  tub_expansion_per_K: 4.8e-6,
  u_tub_expansion_per_K: 0.3e-6,
  liner_thickness_mm: 10,
  core_density_kg_m3: 450,
  core_shrinkage: 0.003,
  latitude_deg: 28.5,
  height_m: 620,
  modulus_GPa: 64,
  poisson: 0.2,
  diffusivity_mm2_s: 0.6,
  stress_optic_per_TPa: 4,
  permanent_stress_MPa: 0.2,
  temporary_stress_MPa: 0.7,
  rotating_mass_kg: 24000,
  glass_allowance: 0.015,
  spacer_diameter_mm: 60,
};
