import * as z from 'zod/mini';

/** The design of a blank; lengths at 20 °C. Keys and units as the calculations take them. */
export const designSchema = z.object({
  blank_diameter_mm: z.number(),
  radius_of_curvature_m: z.number(),
  radius_tolerance_m: z.number(),
  centre_thickness_mm: z.number(),
  face_thickness_mm: z.number(),
  back_thickness_mm: z.number(),
  pitch_mm: z.number(),
  gap_mm: z.number(),
  edge_margin_mm: z.number(),
  density_kg_m3: z.number(),
  glass_expansion_per_K: z.number(),
  set_temperature_C: z.number(),
  tub_expansion_per_K: z.number(),
  u_tub_expansion_per_K: z.number(),
  liner_thickness_mm: z.number(),
  core_density_kg_m3: z.number(),
  core_shrinkage: z.number(),
  latitude_deg: z.number(),
  height_m: z.number(),
  modulus_GPa: z.number(),
  poisson: z.number(),
  diffusivity_mm2_s: z.number(),
  stress_optic_per_TPa: z.number(),
  permanent_stress_MPa: z.number(),
  temporary_stress_MPa: z.number(),
  rotating_mass_kg: z.number(),
  glass_allowance: z.number(),
  spacer_diameter_mm: z.number(),
});
export type Design = z.infer<typeof designSchema>;
