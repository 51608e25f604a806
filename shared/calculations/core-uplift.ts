import * as z from 'zod/mini';
import { defineCalculation, figure, given, workedOut } from './calculation.ts';
import { positive } from './fields.ts';
import { gravity_m_s2, gravityLine } from './gravity.ts';

const input = z.strictObject({
  across_flats_mm: positive('must be greater than 0: a width'),
  height_mm: positive('must be greater than 0: a height'),
  core_density_kg_m3: positive('must be greater than 0: a density'),
  glass_density_kg_m3: positive('must be greater than 0: a density'),
  g_m_s2: z.optional(positive('must be greater than 0: gravity')),
});
const output = z.strictObject({ volume_m3: z.number(), uplift_N: z.number() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Upward force of the glass on a core, which its hold-down pin must carry. */
export const coreUplift = defineCalculation<Input, Output>({
  name: 'core-uplift',
  title: 'Uplift of a core in glass',
  group: 'Shape and spin',
  source:
    "Archimedes' principle (H. Lamb, Statics, 3rd ed., chapter on floating bodies); area of the regular hexagon √3/2 d²",
  formula: 'V = √3/2 · d² · h; F = (ρ_g − ρ_c) V g',
  validity:
    'Core fully under glass, glass below it as well; negative where the core is heavier than glass. Pins and spacers not counted.',
  version: 1,
  input,
  output,
  compute(i) {
    const across_m = i.across_flats_mm / 1000;
    const volume_m3 = (Math.sqrt(3) / 2) * across_m * across_m * (i.height_mm / 1000);
    const g = gravity_m_s2(i.g_m_s2);
    return { volume_m3, uplift_N: (i.glass_density_kg_m3 - i.core_density_kg_m3) * volume_m3 * g };
  },
  working(i, o) {
    const g = gravity_m_s2(i.g_m_s2);
    return [
      given('d', 'core across flats', i.across_flats_mm, 'mm'),
      given('h', 'height of the core', i.height_mm, 'mm'),
      given('ρ_c', 'density of the core', i.core_density_kg_m3, 'kg/m³'),
      given('ρ_g', 'density of the glass', i.glass_density_kg_m3, 'kg/m³'),
      gravityLine(i.g_m_s2),
      workedOut(
        'V',
        'volume of the core',
        o.volume_m3,
        'm³',
        `√3/2 · (${figure(i.across_flats_mm)}/1000)² · ${figure(i.height_mm)}/1000`,
      ),
      workedOut(
        'F',
        'uplift: buoyancy less weight',
        o.uplift_N,
        'N',
        `(${figure(i.glass_density_kg_m3)} − ${figure(i.core_density_kg_m3)}) · ${figure(o.volume_m3)} · ${figure(g)}`,
        "Archimedes' principle",
      ),
    ];
  },
});
