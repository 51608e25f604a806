import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { coreLayout } from '../../shared/calculations/core-layout.ts';
import { glassMass } from '../../shared/calculations/glass-mass.ts';
import { describeOutsideChecks, errorOf, expectRelative, resultOf } from './outside-checks.ts';

const practice = {
  blank_diameter_mm: 3200,
  radius_of_curvature_mm: 10240,
  centre_thickness_mm: 280,
  face_thickness_mm: 28,
  back_thickness_mm: 25,
  pitch_mm: 180,
  gap_mm: 12,
  edge_margin_mm: 25,
  density_kg_m3: 2230,
};

/** Glass by adding up thin rings: plates everywhere, ribs inside the margin, solid glass in it. */
function byRings(i: typeof practice): number {
  const steps = 20_000;
  const edge = i.blank_diameter_mm / 2;
  const rib = 1 - ((i.pitch_mm - i.gap_mm) / i.pitch_mm) ** 2;
  const part = (from: number, to: number, share: number): number => {
    let volume = 0;
    for (let k = 0; k < steps; k++) {
      const r = from + ((k + 0.5) * (to - from)) / steps;
      const thickness = i.centre_thickness_mm + (r * r) / (2 * i.radius_of_curvature_mm);
      const plates = i.face_thickness_mm + i.back_thickness_mm;
      volume += (2 * Math.PI * r * (plates + share * (thickness - plates)) * (to - from)) / steps;
    }
    return volume;
  };
  const inner = edge - i.edge_margin_mm;
  return (part(0, inner, rib) + part(inner, edge, 1)) / 1e9;
}

describe('glass-mass', () => {
  describeOutsideChecks(glassMass);

  test('derived figures of the practice blank', () => {
    const o = resultOf(glassMass, practice);
    expect(o.solid_volume_m3).toBeCloseTo(2.75455, 5);
    expect(o.core_volume_m3).toBeCloseTo(1.95216, 5);
    expect(o.glass_volume_m3).toBeCloseTo(0.80238, 5);
    expect(o.glass_mass_kg).toBeCloseTo(1789.3, 1);
    expect(o.solid_volume_m3 * 2230).toBeCloseTo(6142.6, 1);
    expect(o.hollow_fraction).toBeCloseTo(0.7087, 4);
    expect(o).toMatchObject({ core_count: 253, cut_core_count: 60 });
    // Spacers, 253 of Ø 60 × 25, are not deducted by the calculation; the plan takes them off by hand.
    const spacers = 253 * (Math.PI / 4) * 0.06 ** 2 * 0.025 * 2230;
    expect(o.glass_mass_kg - spacers).toBeCloseTo(1749.4, 1);
    expect((o.glass_mass_kg - spacers) * 1.015).toBeCloseTo(1775.7, 1);
    // A millimetre of face, and half a millimetre of mean gap.
    const thicker = resultOf(glassMass, { ...practice, centre_thickness_mm: 281, face_thickness_mm: 29 });
    expect(thicker.glass_mass_kg - o.glass_mass_kg).toBeCloseTo(17.93, 2);
    const wider = resultOf(glassMass, { ...practice, gap_mm: 12.5 });
    expectRelative(wider.glass_mass_kg - o.glass_mass_kg, 25.9, 5e-3);
  });

  test('refuses what is no honeycomb', () => {
    expect(errorOf(glassMass, { ...practice, centre_thickness_mm: 53 })).toEqual({
      path: 'centre_thickness_mm',
      message: 'leaves no height for cores between face and back',
    });
    expect(errorOf(glassMass, { ...practice, edge_margin_mm: 2000 })).toEqual({
      path: 'edge_margin_mm',
      message: 'must be less than half the diameter',
    });
    expect(errorOf(glassMass, { ...practice, gap_mm: 200 })).toEqual({
      path: 'gap_mm',
      message: 'must be less than the pitch',
    });
    expect(errorOf(glassMass, { ...practice, density_kg_m3: -2230 })).toEqual({
      path: 'density_kg_m3',
      message: 'must be greater than 0: a density',
    });
  });

  const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  const blank = fc.record({
    blank_diameter_mm: some(500, 8000),
    radius_of_curvature_mm: some(2000, 40_000),
    centre_thickness_mm: some(150, 600),
    face_thickness_mm: some(5, 50),
    back_thickness_mm: some(5, 50),
    pitch_mm: some(100, 250),
    gap_mm: some(2, 40),
    edge_margin_mm: some(0, 100),
    density_kg_m3: some(1000, 4000),
  });

  test('agrees with rings added up one by one', () => {
    fc.assert(
      fc.property(blank, (i) => {
        expectRelative(resultOf(glassMass, i).glass_volume_m3, byRings(i), 1e-7);
      }),
      { seed: 1, numRuns: 40 },
    );
  });

  test('glass, cores and solid add up; counts are those of the layout; scale goes with the cube', () => {
    fc.assert(
      fc.property(blank, (i) => {
        const o = resultOf(glassMass, i);
        expectRelative(o.glass_volume_m3 + o.core_volume_m3, o.solid_volume_m3, 1e-14);
        expectRelative(1 - o.glass_volume_m3 / o.solid_volume_m3, o.hollow_fraction, 1e-12);
        const { blank_diameter_mm, pitch_mm, gap_mm, edge_margin_mm } = i;
        const layout = resultOf(coreLayout, { blank_diameter_mm, pitch_mm, gap_mm, edge_margin_mm });
        expect(o).toMatchObject({ core_count: layout.whole_count, cut_core_count: layout.cut_count });
        const doubled = Object.fromEntries(Object.entries(i).map(([k, v]) => [k, k === 'density_kg_m3' ? v : 2 * v]));
        expectRelative(resultOf(glassMass, doubled).glass_mass_kg, 8 * o.glass_mass_kg, 1e-14);
      }),
      { seed: 1, numRuns: 100 },
    );
  });
});
