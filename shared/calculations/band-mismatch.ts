import * as z from 'zod/mini';
import { defineCalculation, figure, given, workedOut } from './calculation.ts';
import { expansionPerK, positive, temperatureC } from './fields.ts';

const input = z.strictObject({
  inner_diameter_mm: positive('must be greater than 0: a diameter'),
  band_expansion_per_K: expansionPerK(),
  wall_expansion_per_K: expansionPerK(),
  temperature_C: temperatureC(),
});
const output = z.strictObject({ gap_mm: z.number() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** How much looser a band is than the wall it holds, both at one temperature. */
export const bandMismatch = defineCalculation<Input, Output>({
  name: 'band-mismatch',
  title: 'Looseness of a band when hot',
  group: 'Heat and glass',
  source: 'Definition of mean linear expansion, ISO 7991:1987 and ASTM E228; reference temperature ISO 1:2022',
  formula: 'gap = D (α_band − α_wall)(T − 20)',
  validity:
    'Both free to move, at one temperature and fitted without play at 20 °C; mean expansion from 20 °C. On the diameter; negative: the band tightens. A preload from the cold is gone where the gap is positive.',
  version: 1,
  input,
  output,
  compute(i) {
    const gap_mm = i.inner_diameter_mm * (i.band_expansion_per_K - i.wall_expansion_per_K) * (i.temperature_C - 20) + 0;
    return { gap_mm };
  },
  working(i, o) {
    return [
      given('D', 'inner diameter of the band at 20 °C', i.inner_diameter_mm, 'mm'),
      given('α_band', 'mean expansion of the band', i.band_expansion_per_K, '1/K'),
      given('α_wall', 'mean expansion of the wall', i.wall_expansion_per_K, '1/K'),
      given('T', 'temperature of both', i.temperature_C, '°C'),
      workedOut(
        'gap',
        o.gap_mm < 0 ? 'the band tightens by' : 'looseness on the diameter',
        o.gap_mm,
        'mm',
        `${figure(i.inner_diameter_mm)} · (${i.band_expansion_per_K} − ${i.wall_expansion_per_K}) · (${figure(i.temperature_C)} − 20)`,
      ),
    ];
  },
});
