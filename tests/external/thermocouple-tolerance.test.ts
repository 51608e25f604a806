import { describe, expect, it } from 'vitest';
import { thermocoupleTolerance } from '../../shared/calculations/thermocouple-tolerance.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

describeOutsideChecks(thermocoupleTolerance);

describe('thermocouple-tolerance', () => {
  // The standard's own rule: the constant or the share, whichever is greater.
  it.each([
    ['K', 1, 375, 1.5, 0.004],
    ['N', 1, 375, 1.5, 0.004],
    ['E', 2, 333, 2.5, 0.0075],
    ['J', 2, 333, 2.5, 0.0075],
    ['T', 1, 125, 0.5, 0.004],
    ['S', 2, 600, 1.5, 0.0025],
  ] as const)(
    'joins its ranges for type %s, class %i, at %i °C within the rounding of the standard',
    (type, cls, at, constant, share) => {
      const tolerance = (temperature_C: number) =>
        resultOf(thermocoupleTolerance, { type, class: cls, temperature_C }).tolerance_K;
      expect(tolerance(at - 50)).toBe(constant);
      expect(tolerance(at)).toBe(constant);
      expect(tolerance(at + 50)).toBeCloseTo(share * (at + 50), 12);
      expect(Math.abs(share * at - constant)).toBeLessThan(0.004);
    },
  );

  it('has the uncertainty of a width (GUM 4.3.7: half-width over the root of three)', () => {
    const { standard_uncertainty_K } = resultOf(thermocoupleTolerance, { type: 'S', class: 1, temperature_C: 560 });
    expect(standard_uncertainty_K).toBeCloseTo(0.5774, 4);
  });

  it.each([
    [{ type: 'S', class: 3, temperature_C: 20 }, 'class', 'has no tolerance for type S'],
    [{ type: 'B', class: 1, temperature_C: 1000 }, 'class', 'has no tolerance for type B'],
    [
      { type: 'S', class: 1, temperature_C: 1650 },
      'temperature_C',
      'is outside the range of type S, class 1: 0 to 1600 °C',
    ],
    [
      { type: 'K', class: 2, temperature_C: -50 },
      'temperature_C',
      'is outside the range of type K, class 2: -40 to 1200 °C',
    ],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(thermocoupleTolerance, input)).toEqual({ path, message });
  });
});
