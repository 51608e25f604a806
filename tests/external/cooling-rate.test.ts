import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coolingRate } from '../../shared/calculations/cooling-rate.ts';
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

describeOutsideChecks(coolingRate);

describe('cooling-rate', () => {
  it('gives the derived figures of the practice blank', () => {
    const permitted = resultOf(coolingRate, { ...slab, permitted_stress_MPa: 0.2 });
    expect(permitted.rate_K_h).toBeCloseTo(0.239, 3);
    expect(permitted.centre_minus_surface_K).toBeCloseTo(2.27, 2);
    const block = resultOf(coolingRate, { ...slab, half_thickness_mm: 60, permitted_stress_MPa: 5 });
    expect(block.rate_K_h).toBeCloseTo(68, 0);
    // The surface carries twice the centre: 0.70 MPa there is 0.35 MPa here.
    expect(resultOf(coolingRate, { ...slab, permitted_stress_MPa: 0.35 }).rate_K_h).toBeCloseTo(0.419, 3);
  });

  it.each([
    [0.2, 12],
    [0.05, 20],
  ])(
    'leaves no more than %s MPa in a Maxwell slab of half thickness %s mm that is cooled so fast',
    (permitted, half) => {
      const body = { ...slab, half_thickness_mm: half };
      const { rate_K_h, centre_minus_surface_K } = resultOf(coolingRate, { ...body, permitted_stress_MPa: permitted });
      const { cooling, cold } = coolSlab(body, rate_K_h, { from_C: 620, to_C: 380, relaxes: true });
      expectRelative(cooling.centre_minus_surface_K, centre_minus_surface_K, 1e-5);
      expectRelative(cold.centre_stress_MPa, permitted, 2e-3);
    },
  );

  it('is cooling-stress turned round', () => {
    const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const any = fc.record({
      permitted_stress_MPa: within(1e-6, 1e3),
      half_thickness_mm: within(0.1, 1e4),
      diffusivity_mm2_s: within(0.01, 100),
      modulus_GPa: within(1, 500),
      poisson: within(-0.5, 0.49),
      expansion_per_K: within(1e-8, 1e-4),
    });
    fc.assert(
      fc.property(any, ({ permitted_stress_MPa, ...body }) => {
        const { rate_K_h, centre_minus_surface_K } = resultOf(coolingRate, { permitted_stress_MPa, ...body });
        const there = resultOf(coolingStress, { rate_K_h, ...body });
        expect(there.permanent_centre_stress_MPa / permitted_stress_MPa).toBeCloseTo(1, 10);
        expect(there.centre_minus_surface_K / centre_minus_surface_K).toBeCloseTo(1, 10);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it.each([
    [{ ...slab, permitted_stress_MPa: -0.1 }, 'permitted_stress_MPa', 'must not be negative: a tension'],
    [
      { ...slab, permitted_stress_MPa: 0.1, expansion_per_K: 0 },
      'expansion_per_K',
      'must be greater than 0: without expansion no rate leaves tension at the centre',
    ],
    [{ ...slab, permitted_stress_MPa: '0.1' }, 'permitted_stress_MPa', 'must be a finite number'],
    [
      { ...slab, permitted_stress_MPa: 1e300, expansion_per_K: 1e-300 },
      '',
      'these numbers lead outside what can be computed',
    ],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(coolingRate, input)).toEqual({ path, message });
  });
});
