import { coreHeight } from '../../../../shared/calculations/core-height.ts';
import { coreLayout } from '../../../../shared/calculations/core-layout.ts';
import type { Design } from '../../../../shared/plan/schema.ts';

/** The blank in two views on one axis, in mm; y goes up from the back of the blank, or away from the cutting plane. */
export interface BlankGeometry {
  readonly radius_mm: number;
  readonly centre_mm: number;
  readonly edge_mm: number;
  /** Points of the face from the left edge to the right. */
  readonly face: readonly (readonly [x: number, y: number])[];
  /** The pockets that the cores leave, where the cutting plane meets them. */
  readonly pockets: readonly { left: number; right: number; bottom: number; top: number }[];
  /** Cores on and behind the cutting plane: the half that is seen from above. */
  readonly cores: readonly { x: number; y: number; whole: boolean }[];
  /** Centre of a core to its corner. */
  readonly corner_mm: number;
}

/** Steps of the drawn face; the eye sees no corner at 48. */
const FACE_STEPS = 48;

/** What is drawn of a design that the calculations took. The plane is cut along the flats of the middle row. */
export function blankGeometry(d: Design): BlankGeometry {
  const radius_mm = d.blank_diameter_mm / 2;
  const rise = (r: number) => r ** 2 / (2000 * d.radius_of_curvature_m);
  const layout = coreLayout.compute({
    blank_diameter_mm: d.blank_diameter_mm,
    pitch_mm: d.pitch_mm,
    gap_mm: d.gap_mm,
    edge_margin_mm: d.edge_margin_mm,
    list: true,
  });
  const cores = (layout.positions ?? []).map(({ x_mm, y_mm, whole }) => ({ x: x_mm, y: y_mm, whole }));
  const half_mm = (d.pitch_mm - d.gap_mm) / 2;
  const limit_mm = radius_mm - d.edge_margin_mm;
  const pockets = cores
    .filter((core) => Math.abs(core.y) < d.pitch_mm / 1000)
    .map((core) => ({
      left: Math.max(core.x - half_mm, -limit_mm),
      right: Math.min(core.x + half_mm, limit_mm),
      bottom: d.back_thickness_mm,
      top: d.back_thickness_mm + heightAt(d, Math.abs(core.x)),
    }));
  return {
    radius_mm,
    centre_mm: d.centre_thickness_mm,
    edge_mm: d.centre_thickness_mm + rise(radius_mm),
    face: Array.from({ length: FACE_STEPS + 1 }, (_, i) => {
      const x = radius_mm * ((2 * i) / FACE_STEPS - 1);
      return [x, d.centre_thickness_mm + rise(x)] as const;
    }),
    pockets,
    cores: cores.filter((core) => core.y > -d.pitch_mm / 1000),
    corner_mm: (2 * half_mm) / Math.sqrt(3),
  };
}

const heightAt = (d: Design, distance_from_axis_mm: number): number =>
  coreHeight.compute({
    distance_from_axis_mm,
    radius_of_curvature_mm: 1000 * d.radius_of_curvature_m,
    centre_thickness_mm: d.centre_thickness_mm,
    face_thickness_mm: d.face_thickness_mm,
    back_thickness_mm: d.back_thickness_mm,
  }).height_mm;
