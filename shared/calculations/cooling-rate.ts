import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, workedOut } from './calculation.ts';
import { heldStress_MPa_K, slabFields, slabLines } from './cooling-stress.ts';
import { notNegative } from './fields.ts';

const input = z.strictObject({
  permitted_stress_MPa: notNegative('must not be negative: a tension'),
  ...slabFields,
});
const output = z.strictObject({ rate_K_h: z.number(), centre_minus_surface_K: z.number() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** The fastest even cooling that leaves no more than a permitted tension at the centre; `cooling-stress` turned round. */
export const coolingRate = defineCalculation<Input, Output>({
  name: 'cooling-rate',
  title: 'Permitted rate of cooling',
  group: 'Heat and glass',
  source: 'L. H. Adams and E. D. Williamson, J. Franklin Inst. 190 (1920) 597 and 835',
  formula: 'h = 6 κ (1 − ν) σ / (E α a²); ΔT = h a² / 2κ',
  validity:
    'As for cooling-stress: flat slab, both faces cooled alike, constant properties, permanent tension at the centre. Expansion in and above the setting range is two to three times the cold one.',
  version: 1,
  input,
  output,
  compute(i) {
    if (i.expansion_per_K <= 0) {
      throw new RefusedInput(
        'expansion_per_K',
        'must be greater than 0: without expansion no rate leaves tension at the centre',
      );
    }
    // σ = Eα/(1−ν) · ΔT/3 gives ΔT first; the rate follows from it.
    const centre_minus_surface_K = (3 * i.permitted_stress_MPa) / heldStress_MPa_K(i);
    const rate_K_h =
      (7200 * centre_minus_surface_K * (i.diffusivity_mm2_s / i.half_thickness_mm)) / i.half_thickness_mm;
    return { rate_K_h, centre_minus_surface_K };
  },
  working(i, o) {
    return [
      given('σ', 'permitted permanent tension at the centre', i.permitted_stress_MPa, 'MPa'),
      ...slabLines(i),
      workedOut(
        'ΔT',
        'permitted centre minus surface',
        o.centre_minus_surface_K,
        'K',
        `3 · ${figure(i.permitted_stress_MPa)} · (1 − ${figure(i.poisson)}) / (${figure(i.modulus_GPa)} · 1000 · ${i.expansion_per_K})`,
      ),
      workedOut(
        'h',
        'permitted rate of cooling',
        o.rate_K_h,
        'K/h',
        `3600 · 2 · ${figure(i.diffusivity_mm2_s)} · ${figure(o.centre_minus_surface_K)} / ${figure(i.half_thickness_mm)}²`,
        'Adams and Williamson 1920',
      ),
    ];
  },
});
