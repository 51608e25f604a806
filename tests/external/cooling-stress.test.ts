import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conductionSlab } from '../../shared/calculations/conduction-slab.ts';
import { coolingStress } from '../../shared/calculations/cooling-stress.ts';
import { describeOutsideChecks, errorOf, expectRelative, resultOf } from './outside-checks.ts';
import { coolSlab } from './slab-cooling.ts';

const slab = {
  half_thickness_mm: 202.5,
  diffusivity_mm2_s: 0.6,
  modulus_GPa: 64,
  poisson: 0.2,
  expansion_per_K: 3.3e-6,
};

describeOutsideChecks(coolingStress);

/**
 * Centre minus surface of a slab, even at first, whose faces fall at an even rate, as a part of h a²/2κ: H. S. Carslaw
 * and J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 3.5, slab with surface temperature kt (from memory; the
 * conduction run below holds it).
 */
const partAfter = (fourier: number) =>
  1 -
  (32 / Math.PI ** 3) *
    Array.from({ length: 40 }, (_, n) => {
      const odd = 2 * n + 1;
      return ((-1) ** n / odd ** 3) * Math.exp(-((odd * Math.PI) ** 2) * (fourier / 4));
    }).reduceRight((sum, term) => sum + term, 0);

/** Cooling an elastic slab for so many a²/κ. */
function elasticRun(body: typeof slab, rate_K_h: number, fourier: number) {
  const hours = (fourier * body.half_thickness_mm ** 2) / body.diffusivity_mm2_s / 3600;
  return coolSlab(body, rate_K_h, { from_C: 400, to_C: 400 - rate_K_h * hours, relaxes: false });
}

describe('cooling-stress', () => {
  it.each([
    [1, { ...slab, half_thickness_mm: 50 }],
    [0.15, slab],
    [30, { half_thickness_mm: 12, diffusivity_mm2_s: 0.45, modulus_GPa: 72, poisson: 0.23, expansion_per_K: 9e-6 }],
  ])('gives what a slab cooled at %s K/h shows in an explicit conduction run', (rate_K_h, body) => {
    const { cooling, cold } = elasticRun(body, rate_K_h, 6);
    const result = resultOf(coolingStress, { ...body, rate_K_h });
    expectRelative(result.centre_minus_surface_K, cooling.centre_minus_surface_K, 1e-5);
    expectRelative(result.temporary_surface_stress_MPa, cooling.surface_stress_MPa, 1e-5);
    expectRelative(result.temporary_centre_stress_MPa, cooling.centre_stress_MPa, 1e-5);
    // Nothing of it stays in a slab that never relaxed.
    expect(Math.abs(cold.surface_stress_MPa / cooling.surface_stress_MPa)).toBeLessThan(1e-4);
  });

  it.each([
    [40, { ...slab, half_thickness_mm: 12 }],
    [120, { half_thickness_mm: 6, diffusivity_mm2_s: 0.45, modulus_GPa: 72, poisson: 0.23, expansion_per_K: 9e-6 }],
  ])('leaves what a Maxwell slab keeps that is cooled through its setting range at %s K/h', (rate_K_h, body) => {
    const { cooling, cold } = coolSlab(body, rate_K_h, { from_C: 620, to_C: 380, relaxes: true });
    const result = resultOf(coolingStress, { ...body, rate_K_h });
    // Relaxed while the parabola stood: hardly any stress while cooling, all of it when the slab is even again.
    expect(Math.abs(cooling.centre_stress_MPa / cold.centre_stress_MPa)).toBeLessThan(0.01);
    expectRelative(result.permanent_surface_stress_MPa, cold.surface_stress_MPa, 2e-3);
    expectRelative(result.permanent_centre_stress_MPa, cold.centre_stress_MPa, 2e-3);
  });

  it('holds after the start-up that its validity names, by the series of Carslaw and Jaeger and by the run', () => {
    const body = { ...slab, half_thickness_mm: 50 };
    const standing = resultOf(coolingStress, { ...body, rate_K_h: 1 }).centre_minus_surface_K;
    for (const fourier of [0.25, 0.5, 1, 2]) {
      const { cooling } = elasticRun(body, 1, fourier);
      expect(Math.abs(cooling.centre_minus_surface_K / standing - partAfter(fourier))).toBeLessThan(1e-3);
    }
    expect(partAfter(2)).toBeGreaterThan(0.99);
    expect(partAfter(0.5)).toBeLessThan(0.75);
  });

  it('is the area under conduction-slab with a fixed surface (Duhamel; Carslaw and Jaeger, 2nd ed., 1.14)', () => {
    // A falling face is a row of small steps, so centre minus surface is h a²/κ · ∫ θ(centre) dFo; Simpson's rule.
    const step = 0.005;
    const ends = 1200;
    const theta = (k: number) => resultOf(conductionSlab, { biot: null, fourier: k * step, position: 0 }).theta;
    const sum = Array.from({ length: ends + 1 }, (_, k) => theta(k) * (k === 0 || k === ends ? 1 : k % 2 ? 4 : 2));
    const area = (sum.reduceRight((a, b) => a + b, 0) * step) / 3;
    const body = { ...slab, half_thickness_mm: 60 };
    const expected = ((0.5 / 3600) * 60 ** 2 * area) / body.diffusivity_mm2_s;
    expectRelative(resultOf(coolingStress, { ...body, rate_K_h: 0.5 }).centre_minus_surface_K, expected, 1e-5);
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
