import * as z from 'zod/mini';
import { defineCalculation, figure, given, workedOut } from './calculation.ts';
import { positive } from './fields.ts';
import { gravity_m_s2, gravityLine } from './gravity.ts';

const input = z.strictObject({
  inner_diameter_mm: positive('must be greater than 0: a diameter'),
  glass_head_mm: positive('must be greater than 0: a head of glass'),
  density_kg_m3: positive('must be greater than 0: a density'),
  g_m_s2: z.optional(positive('must be greater than 0: gravity')),
});
const output = z.strictObject({
  pressure_at_foot_kPa: z.number(),
  hoop_load_at_foot_kN_m: z.number(),
  hoop_load_kN: z.number(),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** What the glass asks of the bands round the tub. */
export const bandLoad = defineCalculation<Input, Output>({
  name: 'band-load',
  title: 'Load of the glass on the bands',
  group: 'Shape and spin',
  source:
    'Hydrostatic pressure p = ρ g H and the thin ring T = p r (R. C. Hibbeler, Mechanics of Materials, chapter on thin-walled pressure vessels)',
  formula: 'p = ρ g H; T_foot = p r; T = ρ g H² r / 2',
  validity:
    'Head taken at the wall, so the rotation is in it already; the wall itself carries no hoop tension. Preload and thermal mismatch come on top.',
  version: 1,
  input,
  output,
  compute(i) {
    const head_m = i.glass_head_mm / 1000;
    const radius_m = i.inner_diameter_mm / 2000;
    const pressure = (i.density_kg_m3 * gravity_m_s2(i.g_m_s2) * head_m) / 1000;
    return {
      pressure_at_foot_kPa: pressure,
      hoop_load_at_foot_kN_m: pressure * radius_m,
      hoop_load_kN: (pressure * radius_m * head_m) / 2,
    };
  },
  working(i, o) {
    const g = gravity_m_s2(i.g_m_s2);
    return [
      given('D', 'inner diameter of the tub', i.inner_diameter_mm, 'mm'),
      given('H', 'glass surface above the floor, at the wall', i.glass_head_mm, 'mm'),
      given('ρ', 'density of the glass', i.density_kg_m3, 'kg/m³'),
      gravityLine(i.g_m_s2),
      workedOut(
        'p',
        'pressure at the foot of the wall',
        o.pressure_at_foot_kPa,
        'kPa',
        `${figure(i.density_kg_m3)} · ${figure(g)} · ${figure(i.glass_head_mm)}/1000 / 1000`,
      ),
      workedOut(
        'T_foot',
        'hoop load at the foot, for a metre of height',
        o.hoop_load_at_foot_kN_m,
        'kN/m',
        `${figure(o.pressure_at_foot_kPa)} · ${figure(i.inner_diameter_mm)}/2000`,
      ),
      workedOut(
        'T',
        'hoop load over the whole wetted wall, acting at a third of the head',
        o.hoop_load_kN,
        'kN',
        `${figure(o.hoop_load_at_foot_kN_m)} · ${figure(i.glass_head_mm)}/1000 / 2`,
      ),
    ];
  },
});
