import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coolingStress } from '../../shared/calculations/cooling-stress.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

const slab = {
  half_thickness_mm: 202.5,
  diffusivity_mm2_s: 0.6,
  modulus_GPa: 64,
  poisson: 0.2,
  expansion_per_K: 3.3e-6,
};

describeOutsideChecks(coolingStress);

/** Conduction in half a slab by finite differences, its face cooled at an even rate, until the profile stands. */
function standingProfile(rate_K_h: number, half_mm: number, diffusivity_mm2_s: number, cells: number): number[] {
  const step_mm = half_mm / cells;
  const step_s = (0.4 * step_mm ** 2) / diffusivity_mm2_s;
  const r = (diffusivity_mm2_s * step_s) / step_mm ** 2;
  let profile = Array.from({ length: cells + 1 }, () => 0);
  const steps = Math.ceil((4 * half_mm ** 2) / diffusivity_mm2_s / step_s);
  for (let n = 0; n < steps; n++) {
    const old = profile;
    profile = old.map((T, k) => {
      if (k === cells) return T - (rate_K_h * step_s) / 3600;
      const left = old[k === 0 ? 1 : k - 1] as number;
      return T + r * (left - 2 * T + (old[k + 1] as number));
    });
  }
  return profile;
}

describe('cooling-stress', () => {
  it('agrees with a conduction run and the balance of forces over its profile', () => {
    const profile = standingProfile(1, 50, 0.6, 40);
    const surface = profile.at(-1) as number;
    const centre = profile[0] as number;
    const mean = profile.reduce((sum, T, k) => sum + T * (k === 0 || k === 40 ? 0.5 : 1), 0) / 40;
    const held = (64000 * 3.3e-6) / 0.8;
    const result = resultOf(coolingStress, { ...slab, half_thickness_mm: 50, rate_K_h: 1 });
    expect(result.centre_minus_surface_K / (centre - surface)).toBeCloseTo(1, 3);
    // Cooled elastically, each layer carries the stress of its distance from the mean temperature.
    expect(result.temporary_surface_stress_MPa / (held * (mean - surface))).toBeCloseTo(1, 2);
    expect(result.temporary_centre_stress_MPa / (held * (mean - centre))).toBeCloseTo(1, 2);
  });

  it('gives the derived figures of the practice blank', () => {
    const planned = resultOf(coolingStress, { ...slab, rate_K_h: 0.15, stress_optic_per_TPa: 4 });
    expect(planned.centre_minus_surface_K).toBeCloseTo(1.42, 2);
    expect(planned.permanent_centre_stress_MPa).toBeCloseTo(0.125, 3);
    expect(planned.permanent_surface_stress_MPa).toBeCloseTo(-0.251, 3);
    expect(planned.permanent_retardation_nm_cm).toBeCloseTo(5.0, 1);
    const below = resultOf(coolingStress, { ...slab, rate_K_h: 0.35 });
    expect(below.temporary_surface_stress_MPa).toBeCloseTo(0.585, 3);
    expect(below.centre_minus_surface_K).toBeCloseTo(3.32, 2);
    expect(resultOf(coolingStress, { ...slab, rate_K_h: 0.419 }).temporary_surface_stress_MPa).toBeCloseTo(0.7, 3);
  });

  it('grows with the rate and the square of the thickness, and what passes is the opposite of what stays', () => {
    const positive = fc.double({ min: 0.01, max: 100, noNaN: true });
    fc.assert(
      fc.property(positive, positive, (rate_K_h, factor) => {
        const one = resultOf(coolingStress, { ...slab, rate_K_h });
        const more = resultOf(coolingStress, { ...slab, rate_K_h: rate_K_h * factor ** 2 });
        const thicker = resultOf(coolingStress, { ...slab, rate_K_h, half_thickness_mm: 202.5 * factor });
        expect(more.permanent_centre_stress_MPa / thicker.permanent_centre_stress_MPa).toBeCloseTo(1, 9);
        expect(one.temporary_surface_stress_MPa).toBe(-one.permanent_surface_stress_MPa);
        expect(one.permanent_surface_stress_MPa / one.permanent_centre_stress_MPa).toBeCloseTo(-2, 12);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('gives no stress and no minus zero at rest', () => {
    const still = resultOf(coolingStress, { ...slab, rate_K_h: 0 });
    for (const value of Object.values(still)) expect(Object.is(value, 0)).toBe(true);
  });

  it.each([
    [{ ...slab, rate_K_h: -1 }, 'rate_K_h', 'must not be negative: cooling is positive'],
    [{ ...slab, rate_K_h: 1, poisson: 0.5 }, 'poisson', 'must be less than 0.5: a Poisson ratio'],
    [
      { ...slab, rate_K_h: 1, half_thickness_mm: 0 },
      'half_thickness_mm',
      'must be greater than 0: half the thickness of the slab',
    ],
    [{ ...slab, rate_K_h: 1, expansion_per_K: 0.01 }, 'expansion_per_K', 'is above 1e-3 per K: no solid does that'],
    [{ ...slab, rate_K_h: 1, glass: 'b' }, '', 'has unknown keys: glass'],
    [slab, 'rate_K_h', 'is missing'],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(coolingStress, input)).toEqual({ path, message });
  });
});
