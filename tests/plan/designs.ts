import { practiceDesign } from '../../shared/plan/practice-design.ts';
import type { Design } from '../../shared/plan/schema.ts';

/** A second invented design, 2.4 m f/1.8, so that nothing in the plan hangs on the first. */
export const otherDesign: Design = {
  ...practiceDesign,
  blank_diameter_mm: 2400,
  radius_of_curvature_m: 8.64,
  radius_tolerance_m: 0.015,
  centre_thickness_mm: 230,
  face_thickness_mm: 25,
  back_thickness_mm: 22,
  pitch_mm: 160,
  gap_mm: 10,
  edge_margin_mm: 20,
  liner_thickness_mm: 8,
  core_shrinkage: 0.004,
  latitude_deg: -31,
  height_m: 1450,
  spacer_diameter_mm: 50,
};

export const designs = [
  { name: 'practice blank', design: practiceDesign },
  { name: '2.4 m f/1.8', design: otherDesign },
];
