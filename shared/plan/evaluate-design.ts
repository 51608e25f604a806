import { bandLoad } from '../calculations/band-load.ts';
import { coolingRate } from '../calculations/cooling-rate.ts';
import { coolingStress } from '../calculations/cooling-stress.ts';
import { coreHeight } from '../calculations/core-height.ts';
import { coreLayout } from '../calculations/core-layout.ts';
import { coreUplift } from '../calculations/core-uplift.ts';
import { glassMass } from '../calculations/glass-mass.ts';
import { mouldDiameter } from '../calculations/mould-diameter.ts';
import { normalGravity } from '../calculations/normal-gravity.ts';
import { spin } from '../calculations/spin.ts';
import { derive } from './derive.ts';
import {
  BAND_EXPANSION_PER_K,
  BAND_PEAK_C,
  RODS_PER_BAND,
  TILE_DENSITY_KG_M3,
  TILE_THICKNESS_MM,
} from './hall-data.ts';
import { requireDesign } from './require-design.ts';
import type { Design } from './schema.ts';

/** A core with its place and its height at 20 °C, all in mm. */
export interface CorePlace {
  readonly address: string;
  readonly x_mm: number;
  readonly y_mm: number;
  readonly whole: boolean;
  readonly distance_mm: number;
  readonly height_mm: number;
}

/** Everything that the plan and the first-run screen take from the calculations, for one design. */
export type EvaluatedDesign = ReturnType<typeof evaluateDesign>;

/** A number as a person plans with it: two significant digits. */
const planned = (value: number): number => Number(value.toPrecision(2));

/**
 * Runs the calculations for a design of a blank.
 * @throws {RefusedInput} with the path of the field of the design that is to blame
 */
export function evaluateDesign(candidate: unknown) {
  const design = requireDesign(candidate);
  const shape = evaluateShape(design);
  return { design, ...shape, ...evaluateMasses(design, shape), ...evaluateCooling(design, shape.edge_mm) };
}

function evaluateShape(d: Design) {
  const gravity = derive(normalGravity, { latitude_deg: d.latitude_deg, height_m: d.height_m });
  const g_m_s2 = gravity.result.g_m_s2;
  const rotation = derive(
    spin,
    {
      radius_of_curvature_m: d.radius_of_curvature_m,
      g_m_s2,
      glass_expansion_per_K: d.glass_expansion_per_K,
      set_temperature_C: d.set_temperature_C,
      diameter_m: d.blank_diameter_mm / 1000,
      radius_tolerance_m: d.radius_tolerance_m,
    },
    { diameter_m: 'blank_diameter_mm', g_m_s2: 'latitude_deg' },
  );
  const mould = derive(mouldDiameter, {
    blank_diameter_mm: d.blank_diameter_mm,
    glass_expansion_per_K: d.glass_expansion_per_K,
    set_temperature_C: d.set_temperature_C,
    tub_expansion_per_K: d.tub_expansion_per_K,
    liner_thickness_mm: d.liner_thickness_mm,
  });
  const edge_mm = d.centre_thickness_mm + 1000 * rotation.result.sag_m;
  return { gravity, g_m_s2, rotation, mould, edge_mm, ...evaluateCores(d, g_m_s2) };
}

const layoutInput = (d: Design) => ({
  blank_diameter_mm: d.blank_diameter_mm,
  pitch_mm: d.pitch_mm,
  gap_mm: d.gap_mm,
  edge_margin_mm: d.edge_margin_mm,
});

const heightInput = (d: Design, distance_from_axis_mm: number) => ({
  distance_from_axis_mm,
  radius_of_curvature_mm: 1000 * d.radius_of_curvature_m,
  centre_thickness_mm: d.centre_thickness_mm,
  face_thickness_mm: d.face_thickness_mm,
  back_thickness_mm: d.back_thickness_mm,
});

const radiusPath = { radius_of_curvature_mm: 'radius_of_curvature_m' };

function evaluateCores(d: Design, g_m_s2: number) {
  const layout = derive(coreLayout, layoutInput(d));
  const heightAt = (distance_mm: number) => derive(coreHeight, heightInput(d, distance_mm), radiusPath);
  const height = heightAt(0);
  const positions = coreLayout.compute({ ...layoutInput(d), list: true }).positions ?? [];
  const cores: CorePlace[] = positions.map((p) => {
    const distance_mm = Math.hypot(p.x_mm, p.y_mm);
    return { ...p, distance_mm, height_mm: coreHeight.compute(heightInput(d, distance_mm)).height_mm };
  });
  const whole = cores.filter((core) => core.whole);
  const farthest_mm = whole.reduce((most, core) => Math.max(most, core.distance_mm), 0);
  const greatestHeight = heightAt(farthest_mm);
  const across_flats_mm = d.pitch_mm - d.gap_mm;
  const upliftAt = (height_mm: number) =>
    derive(
      coreUplift,
      {
        across_flats_mm,
        height_mm,
        core_density_kg_m3: d.core_density_kg_m3,
        glass_density_kg_m3: d.density_kg_m3,
        g_m_s2,
      },
      { across_flats_mm: 'gap_mm', height_mm: 'centre_thickness_mm', glass_density_kg_m3: 'density_kg_m3' },
    );
  return {
    layout,
    height,
    greatestHeight,
    wholeCores: whole,
    cutCores: cores.filter((core) => !core.whole),
    across_flats_mm,
    /** As received, before the bake shrinks it. */
    across_flats_received_mm: across_flats_mm / (1 - d.core_shrinkage),
    leastUplift: upliftAt(height.result.height_mm),
    greatestUplift: upliftAt(greatestHeight.result.height_mm),
  };
}

function evaluateMasses(d: Design, shape: ReturnType<typeof evaluateShape>) {
  const glass = derive(
    glassMass,
    {
      ...layoutInput(d),
      radius_of_curvature_mm: 1000 * d.radius_of_curvature_m,
      centre_thickness_mm: d.centre_thickness_mm,
      face_thickness_mm: d.face_thickness_mm,
      back_thickness_mm: d.back_thickness_mm,
      density_kg_m3: d.density_kg_m3,
    },
    radiusPath,
  );
  const area_mm2 = (Math.PI / 4) * d.blank_diameter_mm ** 2;
  const spacer_mm3 = (Math.PI / 4) * d.spacer_diameter_mm ** 2 * d.back_thickness_mm;
  const spacers_kg = shape.wholeCores.length * spacer_mm3 * 1e-9 * d.density_kg_m3;
  const blank_kg = glass.result.glass_mass_kg - spacers_kg;
  const cores_kg = glass.result.core_volume_m3 * d.core_density_kg_m3;
  const tiles_kg = area_mm2 * TILE_THICKNESS_MM * 1e-9 * TILE_DENSITY_KG_M3;
  const coreArea_mm2 = (Math.sqrt(3) / 2) * shape.across_flats_mm ** 2;
  const wholeCores_m3 = shape.wholeCores.reduce((sum, core) => sum + coreArea_mm2 * core.height_mm * 1e-9, 0);
  const head = shape.edge_mm;
  const tub_mm = shape.mould.result.tub_inner_diameter_mm;
  const band = derive(
    bandLoad,
    { inner_diameter_mm: tub_mm, glass_head_mm: head, density_kg_m3: d.density_kg_m3, g_m_s2: shape.g_m_s2 },
    { inner_diameter_mm: 'blank_diameter_mm', glass_head_mm: 'centre_thickness_mm' },
  );
  // Half a millimetre off both sides of a core, against its area: 2 √3/2 · width · 0.5 over √3/2 · width².
  const halfGapShare = 1 / shape.across_flats_mm;
  return {
    glass,
    spacers_kg,
    blank_kg,
    load_kg: blank_kg * (1 + d.glass_allowance),
    face_kg_mm: area_mm2 * 1e-9 * d.density_kg_m3,
    cores_kg,
    wholeCores_kg: wholeCores_m3 * d.core_density_kg_m3,
    halfGap_kg: halfGapShare * wholeCores_m3 * d.density_kg_m3,
    tiles_kg,
    lift_kg: blank_kg + cores_kg + tiles_kg,
    band,
    /** Travel that a rod loses when the band is at its hottest. */
    bandTravel_mm:
      (Math.PI * tub_mm * (BAND_EXPANSION_PER_K - d.tub_expansion_per_K) * (BAND_PEAK_C - 20)) / RODS_PER_BAND,
  };
}

function evaluateCooling(d: Design, edge_mm: number) {
  const half_thickness_mm = edge_mm / 2;
  const slab = {
    half_thickness_mm,
    diffusivity_mm2_s: d.diffusivity_mm2_s,
    modulus_GPa: d.modulus_GPa,
    poisson: d.poisson,
    expansion_per_K: d.glass_expansion_per_K,
  };
  const paths = {
    half_thickness_mm: 'centre_thickness_mm',
    expansion_per_K: 'glass_expansion_per_K',
    permitted_stress_MPa: 'permanent_stress_MPa',
    rate_K_h: 'temporary_stress_MPa',
  };
  const permitted = derive(coolingRate, { permitted_stress_MPa: d.permanent_stress_MPa, ...slab }, paths);
  const stressAt = (rate_K_h: number) =>
    derive(coolingStress, { rate_K_h, ...slab, stress_optic_per_TPa: d.stress_optic_per_TPa }, paths);
  // Temporary stress is proportional to the rate, so one kelvin an hour turns the calculation round.
  const belowRate_K_h = d.temporary_stress_MPa / stressAt(1).result.temporary_surface_stress_MPa;
  // The planned rates keep well below: the expansion above 500 °C is greater than the cold value.
  const annealRate_K_h = planned(permitted.result.rate_K_h * 0.625);
  const coolRate_K_h = planned((belowRate_K_h * 5) / 6);
  return {
    half_thickness_mm,
    permitted,
    anneal: stressAt(annealRate_K_h),
    permittedBelow: stressAt(belowRate_K_h),
    coolDown: stressAt(coolRate_K_h),
    belowRate_K_h,
    annealRate_K_h,
    /** Through the upper end of the range, where the glass still relaxes. */
    relaxingRate_K_h: planned(2 * annealRate_K_h),
    /** Where the glass has just set. */
    settingRate_K_h: planned((belowRate_K_h * 4) / 7),
    coolRate_K_h,
    lastCoolRate_K_h: planned((belowRate_K_h * 5) / 7),
    timeConstant_h: (4 * half_thickness_mm ** 2) / (Math.PI ** 2 * d.diffusivity_mm2_s * 3600),
  };
}
