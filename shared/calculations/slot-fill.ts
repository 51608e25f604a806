import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, workedOut } from './calculation.ts';
import { notNegative, positive } from './fields.ts';

const input = z.strictObject({
  gap_mm: positive('must be greater than 0: a gap'),
  depth_mm: positive('must be greater than 0: a depth'),
  viscosity_Pa_s: positive('must be greater than 0: a viscosity'),
  density_kg_m3: positive('must be greater than 0: a density'),
  head_mm: z._default(notNegative('must not be negative: glass above the gap'), 0),
  g_m_s2: z._default(positive('must be greater than 0: gravity'), 9.80665),
});
const output = z.strictObject({ mean_velocity_mm_h: z.number(), fill_time_h: z.number() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** 1 − ln(1 + x)/x for x ≥ 0: the part of the time without head that is left with head; x is depth over head. */
export function headFactor(x: number): number {
  if (x === Number.POSITIVE_INFINITY) return 1;
  if (x >= 0.5) return 1 - Math.log1p(x) / x;
  // x/2 − x²/3 + x³/4 − …: the closed form would lose its digits here.
  let sum = 0;
  let power = x;
  for (let k = 2; power / k > 1e-18 * sum; k++) {
    sum += (k % 2 === 0 ? power : -power) / k;
    power *= x;
  }
  return sum;
}

/** How long glass takes to run down a slot between two cores. */
export const slotFill = defineCalculation<Input, Output>({
  name: 'slot-fill',
  title: 'Filling of a slot',
  group: 'Heat and glass',
  source: 'G. K. Batchelor, An Introduction to Fluid Dynamics (1967), sec. 4.2: steady flow between parallel planes',
  formula: 'v = ρ g b² / 12η; t = 12η / (ρ g b²) · (L − H ln(1 + L/H)), L/v where H = 0',
  validity:
    'Slow viscous flow in a gap much narrower than deep and wide; air escapes freely; one even viscosity; surface tension left out (some tens of pascals at 12 mm).',
  version: 1,
  input,
  output,
  compute(i) {
    // b in mm, result in mm/h: 1e-6 m²/mm² · 3.6e6 (mm/h)/(m/s) / 12 = 0.3.
    const mean_velocity_mm_h = 0.3 * i.density_kg_m3 * i.g_m_s2 * i.gap_mm * (i.gap_mm / i.viscosity_Pa_s);
    const withoutHead = i.depth_mm / mean_velocity_mm_h;
    if (!Number.isFinite(withoutHead)) {
      throw new RefusedInput('', 'the glass would move too slowly for a time to be computed');
    }
    return { mean_velocity_mm_h, fill_time_h: withoutHead * headFactor(i.depth_mm / i.head_mm) };
  },
  working(i, o) {
    const L = figure(i.depth_mm);
    const H = figure(i.head_mm);
    const v = figure(o.mean_velocity_mm_h);
    return [
      given('b', 'gap', i.gap_mm, 'mm'),
      given('L', 'depth of the slot', i.depth_mm, 'mm'),
      given('η', 'viscosity', i.viscosity_Pa_s, 'Pa·s'),
      given('ρ', 'density', i.density_kg_m3, 'kg/m³'),
      given('H', 'glass above the gap, constant', i.head_mm, 'mm'),
      given('g', 'gravity', i.g_m_s2, 'm/s²'),
      workedOut(
        'v',
        'mean velocity in the full slot',
        o.mean_velocity_mm_h,
        'mm/h',
        `${figure(i.density_kg_m3)} · ${figure(i.g_m_s2)} · (${figure(i.gap_mm)}/1000)² / (12 · ${figure(i.viscosity_Pa_s)}) · 3.6e6`,
        'flow between parallel planes',
      ),
      workedOut(
        't',
        'time to fill',
        o.fill_time_h,
        'h',
        i.head_mm === 0 ? `${L} / ${v}` : `(${L} − ${H} · ln(1 + ${L}/${H})) / ${v}`,
        'worked out by integration over the depth',
      ),
    ];
  },
});
