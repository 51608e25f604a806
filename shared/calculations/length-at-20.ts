import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, type WorkingLine, workedOut } from './calculation.ts';
import { expansionPerK, notNegative, positive, temperatureC } from './fields.ts';

const input = z.strictObject({
  length_mm: positive('must be greater than 0: a length'),
  part_temperature_C: temperatureC(),
  part_expansion_per_K: expansionPerK(),
  scale_temperature_C: temperatureC(),
  scale_expansion_per_K: expansionPerK(),
  u_length_mm: z.optional(notNegative()),
  u_part_temperature_K: z.optional(notNegative()),
  u_scale_temperature_K: z.optional(notNegative()),
  u_part_expansion_per_K: z.optional(notNegative()),
  u_scale_expansion_per_K: z.optional(notNegative()),
});
const output = z.strictObject({
  length_mm: z.number(),
  correction_mm: z.number(),
  standard_uncertainty_mm: z.optional(z.number()),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** First-order terms of the exact form, one a given uncertainty, in mm. */
function uncertaintyTerms(i: Input, factor: number, length: number): { symbol: string; term_mm: number }[] {
  const scale = 1 + i.scale_expansion_per_K * (i.scale_temperature_C - 20);
  const part = 1 + i.part_expansion_per_K * (i.part_temperature_C - 20);
  return [
    { symbol: 'u(L)', term_mm: factor * (i.u_length_mm ?? 0) },
    { symbol: 'u(t_p)', term_mm: ((length * i.part_expansion_per_K) / part) * (i.u_part_temperature_K ?? 0) },
    { symbol: 'u(t_s)', term_mm: ((length * i.scale_expansion_per_K) / scale) * (i.u_scale_temperature_K ?? 0) },
    { symbol: 'u(α_p)', term_mm: ((length * (i.part_temperature_C - 20)) / part) * (i.u_part_expansion_per_K ?? 0) },
    { symbol: 'u(α_s)', term_mm: ((length * (i.scale_temperature_C - 20)) / scale) * (i.u_scale_expansion_per_K ?? 0) },
  ];
}

/** A length read with a warm scale on a warm part, brought to the reference temperature. */
export const lengthAt20 = defineCalculation<Input, Output>({
  name: 'length-at-20',
  title: 'Length at 20 °C',
  group: 'Measuring and judging',
  source: 'ISO 1:2022, reference temperature 20 °C; uncertainty after JCGM 100:2008 (GUM) 5.1.2',
  formula: 'L20 = L (1 + α_s (t_s − 20)) / (1 + α_p (t_p − 20))',
  validity: 'Mean expansion from 20 °C to the temperature of use; part and scale each at one even temperature.',
  version: 1,
  input,
  output,
  compute(i) {
    const scale = 1 + i.scale_expansion_per_K * (i.scale_temperature_C - 20);
    const part = 1 + i.part_expansion_per_K * (i.part_temperature_C - 20);
    if (scale <= 0)
      throw new RefusedInput('scale_temperature_C', 'is so far from 20 °C that the scale would have no length');
    if (part <= 0)
      throw new RefusedInput('part_temperature_C', 'is so far from 20 °C that the part would have no length');
    const factor = scale / part;
    const length_mm = i.length_mm * factor;
    // (scale − part)/part keeps the digits of a small correction.
    const correction_mm =
      (i.length_mm *
        (i.scale_expansion_per_K * (i.scale_temperature_C - 20) -
          i.part_expansion_per_K * (i.part_temperature_C - 20))) /
      part;
    const told = [
      i.u_length_mm,
      i.u_part_temperature_K,
      i.u_scale_temperature_K,
      i.u_part_expansion_per_K,
      i.u_scale_expansion_per_K,
    ].some((u) => u !== undefined);
    if (!told) return { length_mm, correction_mm };
    const standard_uncertainty_mm = Math.hypot(...uncertaintyTerms(i, factor, length_mm).map((t) => t.term_mm));
    return { length_mm, correction_mm, standard_uncertainty_mm };
  },
  working(i, o) {
    const lines: WorkingLine[] = [
      given('L', 'as read', i.length_mm, 'mm'),
      given('t_p', 'temperature of the part', i.part_temperature_C, '°C'),
      given('α_p', 'expansion of the part', i.part_expansion_per_K, '1/K'),
      given('t_s', 'temperature of the scale', i.scale_temperature_C, '°C'),
      given('α_s', 'expansion of the scale', i.scale_expansion_per_K, '1/K'),
      workedOut(
        'L20',
        'length at 20 °C',
        o.length_mm,
        'mm',
        `${figure(i.length_mm, 9)} · (1 + ${i.scale_expansion_per_K} · (${figure(i.scale_temperature_C)} − 20)) / (1 + ${i.part_expansion_per_K} · (${figure(i.part_temperature_C)} − 20))`,
        'ISO 1',
      ),
      workedOut(
        'L20 − L',
        'correction',
        o.correction_mm,
        'mm',
        `${figure(o.length_mm, 9)} − ${figure(i.length_mm, 9)}`,
      ),
    ];
    if (o.standard_uncertainty_mm !== undefined) {
      const terms = uncertaintyTerms(i, o.length_mm / i.length_mm, o.length_mm).filter((t) => t.term_mm !== 0);
      lines.push(
        workedOut(
          'u',
          'standard uncertainty',
          o.standard_uncertainty_mm,
          'mm',
          terms.length === 0
            ? '0'
            : `√(${terms.map((t) => `${figure(Math.abs(t.term_mm), 3)}²`).join(' + ')}), from ${terms.map((t) => t.symbol).join(', ')}`,
          'GUM 5.1.2',
        ),
      );
    }
    return lines;
  },
});
