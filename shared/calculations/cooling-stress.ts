import * as z from 'zod/mini';
import { defineCalculation, figure, given, type WorkingLine, workedOut } from './calculation.ts';
import { expansionPerK, finite, notNegative, positive } from './fields.ts';

/** What a slab is made of and how thick it is; shared with `cooling-rate`. */
export const slabFields = {
  half_thickness_mm: positive('must be greater than 0: half the thickness of the slab'),
  diffusivity_mm2_s: positive('must be greater than 0: a diffusivity'),
  modulus_GPa: positive('must be greater than 0: a modulus of elasticity'),
  poisson: z
    .number()
    .check(z.gt(-1, 'must be greater than -1: a Poisson ratio'), z.lt(0.5, 'must be less than 0.5: a Poisson ratio')),
  expansion_per_K: expansionPerK(),
};

const input = z.strictObject({
  rate_K_h: notNegative('must not be negative: cooling is positive'),
  ...slabFields,
  stress_optic_per_TPa: z.optional(finite()),
});
const output = z.strictObject({
  centre_minus_surface_K: z.number(),
  permanent_surface_stress_MPa: z.number(),
  permanent_centre_stress_MPa: z.number(),
  temporary_surface_stress_MPa: z.number(),
  temporary_centre_stress_MPa: z.number(),
  permanent_retardation_nm_cm: z.optional(z.number()),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;
type Slab = Omit<Input, 'rate_K_h' | 'stress_optic_per_TPa'>;

/** Centre minus surface of a slab in steady cooling from both faces, in K: h a² / 2κ. */
export function centreMinusSurface(rate_K_h: number, slab: Slab): number {
  return (rate_K_h * slab.half_thickness_mm * (slab.half_thickness_mm / slab.diffusivity_mm2_s)) / 7200;
}

/** E α / (1 − ν) in MPa per kelvin: stress of a fully held plane for one kelvin. */
export function heldStress_MPa_K(slab: Slab): number {
  return (1000 * slab.modulus_GPa * slab.expansion_per_K) / (1 - slab.poisson);
}

/** The slab in a working. */
export const slabLines = (slab: Slab): WorkingLine[] => [
  given('a', 'half the thickness', slab.half_thickness_mm, 'mm'),
  given('κ', 'diffusivity', slab.diffusivity_mm2_s, 'mm²/s'),
  given('E', 'modulus of elasticity', slab.modulus_GPa, 'GPa'),
  given('ν', 'Poisson ratio', slab.poisson, '–'),
  given('α', 'expansion', slab.expansion_per_K, '1/K'),
];

/** Stress in a slab that cools at an even rate: what passes and what stays. */
export const coolingStress = defineCalculation<Input, Output>({
  name: 'cooling-stress',
  title: 'Stress from cooling',
  group: 'Heat and glass',
  source:
    'L. H. Adams and E. D. Williamson, J. Franklin Inst. 190 (1920) 597 and 835; S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., art. 148 (thermal stress in plates)',
  formula:
    'ΔT = h a² / 2κ; permanent: σ_surface = −E α h A / 3, σ_centre = +E α h A / 6 with A = a² / κ(1 − ν); temporary: the opposite signs; retardation = 10 K σ',
  validity:
    'Flat slab, both faces cooled alike, after the start-up (κt/a² above about 2), constant properties, far from the edge. Permanent: the slab was fully relaxed while the parabola stood. Expansion in and above the setting range is two to three times the cold one: put that in, or keep a factor in hand.',
  version: 1,
  input,
  output,
  compute(i) {
    const centre_minus_surface_K = centreMinusSurface(i.rate_K_h, i);
    // Of the parabola, the mean lies 2/3 ΔT above the surface and 1/3 ΔT below the centre; + 0 turns −0 into 0.
    const third = (heldStress_MPa_K(i) * centre_minus_surface_K) / 3 + 0;
    const stresses = {
      centre_minus_surface_K,
      permanent_surface_stress_MPa: -2 * third + 0,
      permanent_centre_stress_MPa: third,
      temporary_surface_stress_MPa: 2 * third,
      temporary_centre_stress_MPa: -third + 0,
    };
    if (i.stress_optic_per_TPa === undefined) return stresses;
    return { ...stresses, permanent_retardation_nm_cm: 10 * i.stress_optic_per_TPa * third + 0 };
  },
  working(i, o) {
    const a = figure(i.half_thickness_mm);
    const held = `${figure(i.modulus_GPa)} · 1000 · ${i.expansion_per_K} / (1 − ${figure(i.poisson)}) · ${figure(o.centre_minus_surface_K)}`;
    const lines = [
      given('h', 'rate of cooling', i.rate_K_h, 'K/h'),
      ...slabLines(i),
      workedOut(
        'ΔT',
        'centre minus surface',
        o.centre_minus_surface_K,
        'K',
        `${figure(i.rate_K_h)} / 3600 · ${a}² / (2 · ${figure(i.diffusivity_mm2_s)})`,
        'Adams and Williamson 1920',
      ),
      workedOut(
        'σ_s',
        'permanent stress at the surface, tension positive',
        o.permanent_surface_stress_MPa,
        'MPa',
        `−2/3 · ${held}`,
      ),
      workedOut(
        'σ_c',
        'permanent stress at the centre, tension positive',
        o.permanent_centre_stress_MPa,
        'MPa',
        `1/3 · ${held}`,
      ),
      workedOut(
        'σ_s,t',
        'stress at the surface while cooling',
        o.temporary_surface_stress_MPa,
        'MPa',
        'the opposite of σ_s',
      ),
      workedOut(
        'σ_c,t',
        'stress at the centre while cooling',
        o.temporary_centre_stress_MPa,
        'MPa',
        'the opposite of σ_c',
      ),
    ];
    if (o.permanent_retardation_nm_cm === undefined) return lines;
    return [
      ...lines,
      given('K', 'stress-optic coefficient', i.stress_optic_per_TPa ?? null, '1/TPa'),
      workedOut(
        'δ',
        'retardation at the centre for 1 cm of path',
        o.permanent_retardation_nm_cm,
        'nm/cm',
        `10 · ${figure(i.stress_optic_per_TPa ?? 0)} · ${figure(o.permanent_centre_stress_MPa)}`,
      ),
    ];
  },
});
