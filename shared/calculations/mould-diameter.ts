import * as z from 'zod/mini';
import { defineCalculation, figure, given, type WorkingLine, workedOut } from './calculation.ts';
import { expansionPerK, notNegative, positive, temperatureC } from './fields.ts';
import { expansionFactor } from './numeric/shape-expansion.ts';

const input = z.strictObject({
  blank_diameter_mm: positive('must be greater than 0: a diameter'),
  glass_expansion_per_K: expansionPerK(),
  set_temperature_C: temperatureC(),
  tub_expansion_per_K: expansionPerK(),
  liner_thickness_mm: notNegative('must not be negative: a thickness'),
});
const output = z.strictObject({ tub_inner_diameter_mm: z.number(), hot_inner_diameter_mm: z.number() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Where the tub closes in on the glass while both cool, the liner must give way. */
function caution(i: Input, o: Output): WorkingLine[] {
  const difference = (i.tub_expansion_per_K - i.glass_expansion_per_K) * (i.set_temperature_C - 20);
  if (difference <= 0) return [];
  const left = (o.tub_inner_diameter_mm - i.blank_diameter_mm) / 2;
  return [
    workedOut(
      'caution',
      'the tub shrinks more than the glass: room left for the liner at 20 °C, on the radius; the liner must give way',
      left,
      'mm',
      `(${figure(o.tub_inner_diameter_mm, 9)} − ${figure(i.blank_diameter_mm, 9)}) / 2, against ${figure(i.liner_thickness_mm)} hot`,
    ),
  ];
}

/** Inner diameter to which the tub is built, cold, so that the blank comes out in size. */
export const mouldDiameter = defineCalculation<Input, Output>({
  name: 'mould-diameter',
  title: 'Inner diameter of the tub',
  group: 'Shape and spin',
  source: 'Linear expansion from the reference temperature of ISO 1:2022, 20 °C',
  formula: 'D_tub = (D (1 + α_g (T − 20)) + 2 s) / (1 + α_t (T − 20))',
  validity:
    'Mean expansions from 20 °C to the set temperature; liner thickness as it stands hot; tub and glass at one temperature.',
  version: 1,
  input,
  output,
  compute(i) {
    const glass = expansionFactor(i.glass_expansion_per_K, i.set_temperature_C, 'set_temperature_C', 'glass');
    const tub = expansionFactor(i.tub_expansion_per_K, i.set_temperature_C, 'set_temperature_C', 'tub');
    const hot = i.blank_diameter_mm * glass + 2 * i.liner_thickness_mm;
    return { tub_inner_diameter_mm: hot / tub, hot_inner_diameter_mm: hot };
  },
  working(i, o) {
    return [
      given('D', 'diameter of the blank at 20 °C', i.blank_diameter_mm, 'mm'),
      given('α_g', 'mean expansion of the glass, 20 °C to set', i.glass_expansion_per_K, '1/K'),
      given('T', 'set temperature', i.set_temperature_C, '°C'),
      given('α_t', 'mean expansion of the tub', i.tub_expansion_per_K, '1/K'),
      given('s', 'thickness of the liner, hot', i.liner_thickness_mm, 'mm'),
      workedOut(
        'D_hot',
        'inner diameter of the tub at the set temperature',
        o.hot_inner_diameter_mm,
        'mm',
        `${figure(i.blank_diameter_mm, 9)} · (1 + ${i.glass_expansion_per_K} · (${figure(i.set_temperature_C)} − 20)) + 2 · ${figure(i.liner_thickness_mm)}`,
      ),
      workedOut(
        'D_tub',
        'inner diameter of the tub at 20 °C',
        o.tub_inner_diameter_mm,
        'mm',
        `${figure(o.hot_inner_diameter_mm, 9)} / (1 + ${i.tub_expansion_per_K} · (${figure(i.set_temperature_C)} − 20))`,
        'ISO 1',
      ),
      ...caution(i, o),
    ];
  },
});
