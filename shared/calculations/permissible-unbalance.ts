import * as z from 'zod/mini';
import { defineCalculation, figure, given, workedOut } from './calculation.ts';
import { positive } from './fields.ts';

const input = z.strictObject({
  mass_kg: positive('must be greater than 0: a mass'),
  rotation_rate_rpm: positive('must be greater than 0: a rate'),
  grade_mm_s: positive('must be greater than 0: a balance quality grade'),
});
const output = z.strictObject({ unbalance_g_mm: z.number(), eccentricity_um: z.number() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** What a balance quality grade would allow: a comparison, never the limit of a turntable. */
export const permissibleUnbalance = defineCalculation<Input, Output>({
  name: 'permissible-unbalance',
  title: 'Permissible residual unbalance of a grade',
  group: 'Shape and spin',
  source: 'ISO 21940-11:2016, balance quality grades: e_per · Ω = G',
  formula: 'U = 1000 G m / (2π n / 60); e = U / m',
  validity:
    "A comparison only: a turntable's limit comes from its bearing and drive, in kg mm, in the plan. The grades are made for rigid rotors at service speed.",
  version: 1,
  input,
  output,
  compute(i) {
    const eccentricity_um = (1000 * i.grade_mm_s) / ((2 * Math.PI * i.rotation_rate_rpm) / 60);
    return { unbalance_g_mm: eccentricity_um * i.mass_kg, eccentricity_um };
  },
  working(i, o) {
    return [
      given('m', 'mass', i.mass_kg, 'kg'),
      given('n', 'rotation rate', i.rotation_rate_rpm, 'rpm'),
      given('G', 'balance quality grade', i.grade_mm_s, 'mm/s'),
      workedOut(
        'e',
        'permissible eccentricity of the mass',
        o.eccentricity_um,
        'µm',
        `1000 · ${figure(i.grade_mm_s)} / (2π · ${figure(i.rotation_rate_rpm)} / 60)`,
        'ISO 21940-11',
      ),
      workedOut(
        'U',
        'permissible residual unbalance',
        o.unbalance_g_mm,
        'g mm',
        `${figure(o.eccentricity_um, 9)} · ${figure(i.mass_kg, 9)}`,
        'ISO 21940-11',
      ),
      workedOut(
        'caution',
        "a comparison only: a turntable's limit comes from its bearing and drive, in kg mm, in the plan",
        o.unbalance_g_mm / 1000,
        'kg mm',
        `${figure(o.unbalance_g_mm, 9)} / 1000`,
      ),
    ];
  },
});
