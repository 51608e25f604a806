import { coreHeight } from '../calculations/core-height.ts';
import { coreUplift } from '../calculations/core-uplift.ts';
import { normalGravity } from '../calculations/normal-gravity.ts';
import { coreByAddress } from './cores.ts';
import type { Plan } from './schema.ts';

export interface CoreLift {
  readonly distance_mm: number;
  readonly height_mm: number;
  readonly uplift_N: number;
  /** What goes into the calculation `core-uplift`. */
  readonly input: Parameters<typeof coreUplift.compute>[0];
}

/** How hard the glass will lift the core at an address, which its pin must hold; null where the plan has no such core. */
export function coreLift(plan: Plan, address: string): CoreLift | null {
  const core = coreByAddress(plan, address);
  if (!core) return null;
  const d = plan.design;
  const distance_mm = Math.hypot(core.x_mm, core.y_mm);
  const { height_mm } = coreHeight.compute({
    distance_from_axis_mm: distance_mm,
    radius_of_curvature_mm: 1000 * d.radius_of_curvature_m,
    centre_thickness_mm: d.centre_thickness_mm,
    face_thickness_mm: d.face_thickness_mm,
    back_thickness_mm: d.back_thickness_mm,
  });
  const input = {
    across_flats_mm: d.pitch_mm - d.gap_mm,
    height_mm,
    core_density_kg_m3: d.core_density_kg_m3,
    glass_density_kg_m3: d.density_kg_m3,
    g_m_s2: normalGravity.compute({ latitude_deg: d.latitude_deg, height_m: d.height_m }).g_m_s2,
  };
  return { distance_mm, height_mm, uplift_N: coreUplift.compute(input).uplift_N, input };
}
