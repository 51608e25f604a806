import { describe, expect, it } from 'vitest';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { blankGeometry } from '../../src/tablet/screens/start/blank-geometry.ts';

describe('blankGeometry', () => {
  const blank = blankGeometry(practiceDesign);

  // Sag of a paraboloid from its diameter and focal length: D²/16f (common practice, no source).
  it('draws the face as a paraboloid', () => {
    const focal_mm = (practiceDesign.radius_of_curvature_m * 1000) / 2;
    const sag_mm = practiceDesign.blank_diameter_mm ** 2 / (16 * focal_mm);
    expect(blank.edge_mm).toBeCloseTo(practiceDesign.centre_thickness_mm + sag_mm, 9);
    expect(blank.face[0]![1]).toBeCloseTo(blank.edge_mm, 9);
    expect(Math.min(...blank.face.map(([, y]) => y))).toBe(practiceDesign.centre_thickness_mm);
  });
  it('cuts the middle row: one pocket a pitch, a rib between, a face sheet above', () => {
    const { pitch_mm, gap_mm, face_thickness_mm, radius_of_curvature_m } = practiceDesign;
    const sorted = [...blank.pockets].sort((a, b) => a.left - b.left);
    // 3150 mm hold 17 cores of 180 mm from the axis out, and one cut at each end.
    expect(sorted).toHaveLength(19);
    for (const [i, pocket] of sorted.slice(1).entries()) expect(pocket.left - sorted[i]!.right).toBeCloseTo(gap_mm, 9);
    const middle = sorted[9]!;
    expect((middle.left + middle.right) / 2).toBeCloseTo(0, 9);
    expect(middle.right - middle.left).toBeCloseTo(pitch_mm - gap_mm, 9);
    expect(practiceDesign.centre_thickness_mm - middle.top).toBeCloseTo(face_thickness_mm, 9);
    const next = (sorted[10]!.left + sorted[10]!.right) / 2;
    const faceThere = practiceDesign.centre_thickness_mm + next ** 2 / (2000 * radius_of_curvature_m);
    expect(faceThere - sorted[10]!.top).toBeCloseTo(face_thickness_mm, 9);
  });
  it('shows the half from above: with its mirror it is every core', () => {
    const onCut = blank.cores.filter((c) => c.whole && Math.abs(c.y) < 1).length;
    const behind = blank.cores.filter((c) => c.whole && c.y > 1).length;
    expect(onCut + 2 * behind).toBe(253);
  });
});
