import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bandMismatch } from '../../shared/calculations/band-mismatch.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

const band = {
  inner_diameter_mm: 3267.36,
  band_expansion_per_K: 15.3e-6,
  wall_expansion_per_K: 4.8e-6,
  temperature_C: 538,
};

describeOutsideChecks(bandMismatch);

describe('band-mismatch', () => {
  it('is the difference of the two free diameters, and changes sign with the two expansions', () => {
    const expansion = fc.double({ min: -1e-4, max: 1e-4, noNaN: true });
    fc.assert(
      fc.property(expansion, expansion, fc.double({ min: -200, max: 1300, noNaN: true }), (b, w, T) => {
        const input = { ...band, band_expansion_per_K: b, wall_expansion_per_K: w, temperature_C: T };
        const { gap_mm } = resultOf(bandMismatch, input);
        const free = (a: number) => 3267.36 * (1 + a * (T - 20));
        expect(gap_mm).toBeCloseTo(free(b) - free(w), 8);
        const swapped = resultOf(bandMismatch, { ...input, band_expansion_per_K: w, wall_expansion_per_K: b });
        expect(swapped.gap_mm + gap_mm).toBe(0);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it('is nothing at 20 °C', () => {
    expect(Object.is(resultOf(bandMismatch, { ...band, temperature_C: 20 }).gap_mm, 0)).toBe(true);
  });

  it.each([
    [{ ...band, inner_diameter_mm: 0 }, 'inner_diameter_mm', 'must be greater than 0: a diameter'],
    [{ ...band, temperature_C: -273.2 }, 'temperature_C', 'is below absolute zero (-273.15 °C)'],
    [{ ...band, band_expansion_per_K: 0.002 }, 'band_expansion_per_K', 'is above 1e-3 per K: no solid does that'],
    [{ ...band, wall_expansion_per_K: undefined }, 'wall_expansion_per_K', 'is missing'],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(bandMismatch, input)).toEqual({ path, message });
  });
});
