import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { mouldDiameter } from '../../shared/calculations/mould-diameter.ts';
import { errorOf, expectRelative, resultOf, workingOf } from './outside-checks.ts';

const practice = {
  blank_diameter_mm: 3200,
  glass_expansion_per_K: 3.3e-6,
  set_temperature_C: 560,
  tub_expansion_per_K: 4.8e-6,
  liner_thickness_mm: 10,
};
const inner = (input: object): number => resultOf(mouldDiameter, input).tub_inner_diameter_mm;

describe('mould-diameter', () => {
  test('a steel ring opens by 0.83984 % at 600 °C (EN 1993-1-2, equation 3.1, elongation of carbon steel)', () => {
    const elongation = 1.2e-5 * 600 + 0.4e-8 * 600 ** 2 - 2.416e-4;
    const cold = inner({
      blank_diameter_mm: 1000,
      glass_expansion_per_K: 0,
      set_temperature_C: 600,
      tub_expansion_per_K: elongation / 580,
      liner_thickness_mm: 0,
    });
    expect(1000 / cold - 1).toBeCloseTo(0.0083984, 12);
  });

  test('a bar of borosilicate glass 3.3 grows 0.924 mm a metre from 20 to 300 °C (ISO 3585, mean expansion 3.3e-6)', () => {
    const grown = inner({
      blank_diameter_mm: 1000,
      glass_expansion_per_K: 3.3e-6,
      set_temperature_C: 300,
      tub_expansion_per_K: 0,
      liner_thickness_mm: 0,
    });
    expect(grown - 1000).toBeCloseTo(0.924, 9);
  });

  test('derived figures of the practice blank', () => {
    const o = resultOf(mouldDiameter, practice);
    expect(o.tub_inner_diameter_mm).toBeCloseTo(3217.36, 2);
    expect(o.hot_inner_diameter_mm).toBeCloseTo(3225.7, 2);
    expect(inner({ ...practice, tub_expansion_per_K: 5.1e-6 }) - o.tub_inner_diameter_mm).toBeCloseTo(-0.52, 2);
    expect(inner({ ...practice, tub_expansion_per_K: 4.5e-6 }) - o.tub_inner_diameter_mm).toBeCloseTo(0.52, 2);
  });

  test('warns only where the tub shrinks more than the glass', () => {
    const warns = (input: object): boolean => workingOf(mouldDiameter, input).some((l) => l.symbol === 'caution');
    expect(warns(practice)).toBe(true);
    expect(warns({ ...practice, tub_expansion_per_K: 3.3e-6 })).toBe(false);
    expect(warns({ ...practice, tub_expansion_per_K: 2e-6 })).toBe(false);
  });

  test('refuses what is no mould', () => {
    expect(errorOf(mouldDiameter, { ...practice, blank_diameter_mm: -1 })).toEqual({
      path: 'blank_diameter_mm',
      message: 'must be greater than 0: a diameter',
    });
    expect(errorOf(mouldDiameter, { ...practice, liner_thickness_mm: -0.1 })).toEqual({
      path: 'liner_thickness_mm',
      message: 'must not be negative: a thickness',
    });
    expect(errorOf(mouldDiameter, { ...practice, tub_expansion_per_K: -1e-3, set_temperature_C: 1500 })).toEqual({
      path: 'set_temperature_C',
      message: 'is so far from 20 °C that the tub would have no length',
    });
    expect(errorOf(mouldDiameter, { ...practice, set_temperature_C: 'hot' }).message).toBe('must be a finite number');
  });

  test('scales with size, takes the liner on both sides, and is plain at 20 °C', () => {
    const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        some(100, 9000),
        some(0, 50),
        some(0, 2e-5),
        some(0, 2e-5),
        some(20, 1200),
        some(0.01, 100),
        (d, s, ag, at, t, k) => {
          const input = {
            blank_diameter_mm: d,
            glass_expansion_per_K: ag,
            set_temperature_C: t,
            tub_expansion_per_K: at,
            liner_thickness_mm: s,
          };
          const scaled = { ...input, blank_diameter_mm: d * k, liner_thickness_mm: s * k };
          expectRelative(inner(scaled), k * inner(input), 1e-14);
          expectRelative(inner({ ...input, set_temperature_C: 20 }), d + 2 * s, 1e-15);
          expectRelative(inner({ ...input, tub_expansion_per_K: ag, liner_thickness_mm: 0 }), d, 1e-15);
        },
      ),
      { seed: 1, numRuns: 200 },
    );
  });
});
