import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, type WorkingLine, workedOut } from './calculation.ts';
import { heldStress_MPa_K, slabFields, slabLines } from './cooling-stress.ts';
import { finite, temperatureC } from './fields.ts';
import { type MaxwellSlab, runMaxwellSlab, simpson, stepsOf } from './numeric/maxwell-slab.ts';
import { viscosityCurve } from './viscosity.ts';

const DEFAULT_LAYERS = 20;
const MOST_LAYERS = 100;
/** A longer run would keep a tablet waiting. */
const MOST_STEPS = 100_000;
/** Stiffer than this nothing flows in a lifetime; the curve of the viscosity is no guide there either. */
const SET_LOG10_PA_S = 20;

const input = z.strictObject({
  ...slabFields,
  /** Temperature and viscosity of the glass at three points. */
  points: z
    .array(z.strictObject({ temperature_C: temperatureC(), log10_Pa_s: finite() }))
    .check(z.length(3, 'needs exactly 3 points')),
  /** The face in time; straight lines between. The slab is even and free of stress at the first. */
  record: z
    .array(z.strictObject({ at_h: finite(), surface_C: temperatureC() }))
    .check(z.minLength(2, 'needs at least 2 readings')),
  layers: z._default(
    z
      .number()
      .check(
        z.gte(4, 'must be at least 4'),
        z.lte(MOST_LAYERS, `must be at most ${MOST_LAYERS}`),
        z.multipleOf(2, 'must be even'),
      ),
    DEFAULT_LAYERS,
  ),
  stress_optic_per_TPa: z.optional(finite()),
});
const output = z.strictObject({
  surface_C: z.number(),
  centre_C: z.number(),
  centre_minus_surface_K: z.number(),
  /** What stands in the glass at the end of the record. */
  surface_stress_MPa: z.number(),
  centre_stress_MPa: z.number(),
  /** What of it stays when the slab becomes even without relaxing further. */
  permanent_surface_stress_MPa: z.number(),
  permanent_centre_stress_MPa: z.number(),
  /** What of it passes with the difference. */
  temporary_surface_stress_MPa: z.number(),
  temporary_centre_stress_MPa: z.number(),
  permanent_retardation_nm_cm: z.optional(z.number()),
  /** At the centre now; null where the glass has set. */
  relaxation_time_h: z.nullable(z.number()),
  /** Greatest tension anywhere in the half thickness in the whole record, and when. */
  greatest_tension_MPa: z.number(),
  greatest_tension_at_h: z.number(),
  steps: z.number(),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Plane stress, equal in both directions, relaxes slower than shear: its volume change stays elastic. */
const planeFactor = (poisson: number): number => (3 * (1 - poisson)) / (1 + poisson);

const shearModulus_Pa = ({ modulus_GPa, poisson }: Input): number => (modulus_GPa * 1e9) / (2 * (1 + poisson));

/** Relaxation time of the plane stress in s at a temperature; Infinity where the glass has set. */
function relaxationOf(i: Input): (temperature_C: number) => number {
  const { A, B, T0_C } = viscosityCurve(i.points);
  const scale = planeFactor(i.poisson) / shearModulus_Pa(i);
  return (temperature_C) => {
    if (temperature_C < T0_C + 1) return Number.POSITIVE_INFINITY;
    const log10_Pa_s = A + B / (temperature_C - T0_C);
    return log10_Pa_s > SET_LOG10_PA_S ? Number.POSITIVE_INFINITY : scale * 10 ** log10_Pa_s;
  };
}

const slabOf = (i: Input): MaxwellSlab => ({
  half_thickness_mm: i.half_thickness_mm,
  diffusivity_mm2_s: i.diffusivity_mm2_s,
  held_MPa_K: heldStress_MPa_K(i),
  relaxation_s: relaxationOf(i),
  layers: i.layers,
});

/** The readings of the face, oldest first. @throws {RefusedInput} where two were taken at one time. */
function inTime({ record }: Input): Input['record'] {
  const sorted = [...record].sort((a, b) => a.at_h - b.at_h);
  if (sorted.some((r, k) => k > 0 && r.at_h === sorted[k - 1]!.at_h))
    throw new RefusedInput('record', 'has two readings of one time');
  return sorted;
}

function compute(i: Input): Output {
  const record = inTime(i);
  const slab = slabOf(i);
  if (!(stepsOf(slab, record) <= MOST_STEPS))
    throw new RefusedInput('record', 'takes too many steps: fewer readings, smaller changes, or fewer layers');
  const { last, steps, greatest_MPa, greatest_at_h } = runMaxwellSlab(slab, record);
  const { temperature_C, stress_MPa } = last;
  const [surface_C, centre_C] = [temperature_C[i.layers]!, temperature_C[0]!];
  const mean_C = simpson(i.layers)(temperature_C);
  // What the difference alone would make in an elastic slab: it goes when the difference goes.
  const passing = (T: number) => slab.held_MPa_K * (mean_C - T);
  const permanent_centre_stress_MPa = stress_MPa[0]! - passing(centre_C);
  const relaxation_s = slab.relaxation_s(centre_C);
  return {
    surface_C,
    centre_C,
    centre_minus_surface_K: centre_C - surface_C,
    surface_stress_MPa: stress_MPa[i.layers]!,
    centre_stress_MPa: stress_MPa[0]!,
    permanent_surface_stress_MPa: stress_MPa[i.layers]! - passing(surface_C),
    permanent_centre_stress_MPa,
    temporary_surface_stress_MPa: passing(surface_C) + 0,
    temporary_centre_stress_MPa: passing(centre_C) + 0,
    ...(i.stress_optic_per_TPa === undefined
      ? {}
      : { permanent_retardation_nm_cm: 10 * i.stress_optic_per_TPa * permanent_centre_stress_MPa }),
    relaxation_time_h: Number.isFinite(relaxation_s) ? relaxation_s / 3600 : null,
    greatest_tension_MPa: greatest_MPa,
    greatest_tension_at_h: greatest_at_h,
    steps,
  };
}

/** Stress in a slab from the record of its faces, with the glass relaxing as it goes. */
export const viscoelasticSlab = defineCalculation<Input, Output>({
  name: 'viscoelastic-slab',
  title: 'Stress in a slab that relaxes while it cools',
  group: 'Heat and glass',
  source:
    'E. H. Lee, T. G. Rogers and T. C. Woo, J. Am. Ceram. Soc. 48 (1965) 480 (viscoelastic plate cooled from both surfaces; from memory); J. Crank and P. Nicolson, Proc. Camb. Phil. Soc. 43 (1947) 50; viscosity as in viscosity',
  formula:
    '∂T/∂t = κ ∂²T/∂x²; dσ/dt = E/(1 − ν) · (dε/dt − α dT/dt) − σ/τ; ∫σ dx = 0 gives ε; τ = 3(1 − ν)/(1 + ν) · η(T)/G, G = E/2(1 + ν); passing = Eα/(1 − ν) · (mean T − T); permanent = σ − passing',
  validity:
    'One dimension: a flat slab with both faces at the logged temperature, far from its edge, even and free of stress at the first reading, straight lines between readings, constant κ, E, ν and α. One relaxation time (Maxwell) from the viscosity curve of the glass in equilibrium: where it gives more than about 10^13 Pa·s the real glass flows sooner than the curve says, and its real relaxation is spread over decades of time. The expansion is the cold one: in and above the setting range it is two to three times that, and stress with it. Volume relaxation (fictive temperature) is left out. Ribs, cores and different temperatures of face and back are not in it.',
  version: 1,
  input,
  output,
  compute,
  working,
});

function working(i: Input, o: Output): WorkingLine[] {
  const { A, B, T0_C } = viscosityCurve(i.points);
  const record = inTime(i);
  const [first, last] = [record[0]!, record.at(-1)!];
  const held = heldStress_MPa_K(i);
  const stress = (symbol: string, meaning: string, value: number, formula: string) =>
    workedOut(symbol, meaning, value, 'MPa', formula);
  const lines = [
    ...slabLines(i),
    given('n', 'readings of the face', i.record.length, '–', 'log'),
    given('t_1', 'first reading', first.at_h, 'h', 'log'),
    given('T_1', 'slab even at', first.surface_C, '°C', 'log'),
    given('t_n', 'last reading', last.at_h, 'h', 'log'),
    given('T_n', 'face at the end', last.surface_C, '°C', 'log'),
    workedOut('A', 'of the viscosity curve', A, 'log10 Pa·s', 'through the three points', 'viscosity'),
    workedOut('B', 'of the viscosity curve', B, 'K', 'through the three points', 'viscosity'),
    workedOut('T0', 'of the viscosity curve', T0_C, '°C', 'through the three points', 'viscosity'),
    workedOut(
      'G',
      'shear modulus',
      shearModulus_Pa(i) / 1e9,
      'GPa',
      `${figure(i.modulus_GPa)} / (2 · (1 + ${figure(i.poisson)}))`,
    ),
    workedOut(
      'τ',
      'relaxation time at the centre now',
      o.relaxation_time_h ?? 'none: the glass has set',
      o.relaxation_time_h === null ? '' : 'h',
      `${figure(planeFactor(i.poisson))} · 10^(A + B / (${figure(o.centre_C)} − T0)) / G / 3600`,
      'Maxwell body, plane stress',
    ),
    given('layers', 'centre to surface', i.layers, '–'),
    workedOut(
      'steps',
      'of time',
      o.steps,
      '–',
      'each at most 20 K over the layers, the first after a reading 0.5 Δx²/κ',
    ),
    workedOut(
      'ΔT',
      'centre minus surface',
      o.centre_minus_surface_K,
      'K',
      `${figure(o.centre_C, 8)} − ${figure(o.surface_C, 8)}`,
    ),
    stress(
      'Eα/(1−ν)',
      'stress for one kelvin held',
      held,
      `1000 · ${figure(i.modulus_GPa)} · ${i.expansion_per_K} / (1 − ${figure(i.poisson)})`,
    ),
    stress('σ_s', 'stress at the surface now, tension positive', o.surface_stress_MPa, 'run of the slab'),
    stress('σ_c', 'stress at the centre now', o.centre_stress_MPa, 'run of the slab'),
    stress(
      'σ_s,t',
      'of it passes with the difference, surface',
      o.temporary_surface_stress_MPa,
      'Eα/(1−ν) · (mean T − T_surface)',
    ),
    stress(
      'σ_c,t',
      'of it passes with the difference, centre',
      o.temporary_centre_stress_MPa,
      'Eα/(1−ν) · (mean T − T_centre)',
    ),
    stress(
      'σ_s,p',
      'would stay, surface',
      o.permanent_surface_stress_MPa,
      `${figure(o.surface_stress_MPa)} − ${figure(o.temporary_surface_stress_MPa)}`,
    ),
    stress(
      'σ_c,p',
      'would stay, centre',
      o.permanent_centre_stress_MPa,
      `${figure(o.centre_stress_MPa)} − ${figure(o.temporary_centre_stress_MPa)}`,
    ),
    stress(
      'σ_max',
      `greatest tension in the record, at ${figure(o.greatest_tension_at_h)} h`,
      o.greatest_tension_MPa,
      'run of the slab',
    ),
  ];
  if (o.permanent_retardation_nm_cm === undefined) return lines;
  return [
    ...lines,
    given('K', 'stress-optic coefficient', i.stress_optic_per_TPa ?? null, '1/TPa'),
    workedOut(
      'δ',
      'retardation that would stay at the centre for 1 cm of path',
      o.permanent_retardation_nm_cm,
      'nm/cm',
      `10 · ${figure(i.stress_optic_per_TPa ?? 0)} · ${figure(o.permanent_centre_stress_MPa)}`,
    ),
  ];
}
