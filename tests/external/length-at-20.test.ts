import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lengthAt20 } from '../../shared/calculations/length-at-20.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const reading = fc.record({
  length_mm: within(1, 5000),
  part_temperature_C: within(-20, 60),
  part_expansion_per_K: within(0, 3e-5),
  scale_temperature_C: within(-20, 60),
  scale_expansion_per_K: within(0, 3e-5),
});
const base = {
  length_mm: 1000,
  part_temperature_C: 25,
  part_expansion_per_K: 3.3e-6,
  scale_temperature_C: 22,
  scale_expansion_per_K: 11.5e-6,
};
const once = { seed: 1, numRuns: 200, endOnFailure: true };

describeOutsideChecks(lengthAt20);

describe('length-at-20', () => {
  it('is the reading at 20 °C, and wherever part and scale are alike (ISO 1)', () => {
    const at20 = { ...base, part_temperature_C: 20, scale_temperature_C: 20 };
    expect(resultOf(lengthAt20, at20)).toEqual({ length_mm: 1000, correction_mm: 0 });
    const alike = { ...base, part_expansion_per_K: 11.5e-6, part_temperature_C: 22 };
    expect(resultOf(lengthAt20, alike).correction_mm).toBe(0);
  });

  it('scales with the reading, and its correction closes the sum', () => {
    fc.assert(
      fc.property(reading, within(0.1, 10), (input, factor) => {
        const one = resultOf(lengthAt20, input);
        const other = resultOf(lengthAt20, { ...input, length_mm: input.length_mm * factor });
        expect(other.length_mm / factor).toBeCloseTo(one.length_mm, 8);
        expect(input.length_mm + one.correction_mm).toBeCloseTo(one.length_mm, 9);
      }),
      once,
    );
  });

  it.each([
    ['length_mm', 'u_length_mm', 1e-2],
    ['part_temperature_C', 'u_part_temperature_K', 1e-2],
    ['scale_temperature_C', 'u_scale_temperature_K', 1e-2],
    ['part_expansion_per_K', 'u_part_expansion_per_K', 1e-8],
    ['scale_expansion_per_K', 'u_scale_expansion_per_K', 1e-8],
  ] as const)('passes on the uncertainty of %s by the slope of the exact form (GUM 5.1.2)', (key, name, u) => {
    const half = resultOf(lengthAt20, { ...base, [key]: base[key] + u }).correction_mm + (key === 'length_mm' ? u : 0);
    const less = resultOf(lengthAt20, { ...base, [key]: base[key] - u }).correction_mm - (key === 'length_mm' ? u : 0);
    const { standard_uncertainty_mm } = resultOf(lengthAt20, { ...base, [name]: u });
    expect(standard_uncertainty_mm! / Math.abs((half - less) / 2)).toBeCloseTo(1, 5);
  });

  it('adds uncertainties as squares', () => {
    const alone = ['u_length_mm', 'u_part_temperature_K'].map(
      (name) => resultOf(lengthAt20, { ...base, [name]: 0.01 }).standard_uncertainty_mm!,
    );
    const both = resultOf(lengthAt20, { ...base, u_length_mm: 0.01, u_part_temperature_K: 0.01 });
    expect(both.standard_uncertainty_mm).toBeCloseTo(Math.hypot(...alone), 14);
  });

  it.each([
    [{ ...base, length_mm: 0 }, 'length_mm', 'must be greater than 0: a length'],
    [{ ...base, part_temperature_C: -274 }, 'part_temperature_C', 'is below absolute zero (-273.15 °C)'],
    [{ ...base, scale_expansion_per_K: 0.01 }, 'scale_expansion_per_K', 'is above 1e-3 per K: no solid does that'],
    [{ ...base, u_length_mm: -1 }, 'u_length_mm', 'must not be negative'],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(lengthAt20, input)).toEqual({ path, message });
  });
});
