import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { coreUplift } from '../../shared/calculations/core-uplift.ts';
import { describeOutsideChecks, errorOf, expectRelative, resultOf } from './outside-checks.ts';

const practice = {
  across_flats_mm: 168,
  height_mm: 227,
  core_density_kg_m3: 450,
  glass_density_kg_m3: 2230,
  g_m_s2: 9.790179,
};

describe('core-uplift', () => {
  describeOutsideChecks(coreUplift);

  test('10 000 t of steel under water is lifted by 1.3e7 N (OpenStax College Physics, section 11.7, from memory)', () => {
    // 1.00e7 kg at 7.8e3 kg/m³, as a hexagonal prism of 10 m across flats.
    const height_m = 1e7 / 7.8e3 / ((Math.sqrt(3) / 2) * 100);
    const block = { across_flats_mm: 10_000, height_mm: 1000 * height_m, core_density_kg_m3: 7800, g_m_s2: 9.8 };
    const net = resultOf(coreUplift, { ...block, glass_density_kg_m3: 1000 }).uplift_N;
    expectRelative(net + 1e7 * 9.8, 1.3e7, 0.04);
    expect(net).toBeLessThan(0);
  });

  test('derived figures of the practice blank', () => {
    expect(resultOf(coreUplift, practice).uplift_N).toBeCloseTo(96.7, 1);
    expect(resultOf(coreUplift, { ...practice, height_mm: 333 }).uplift_N).toBeCloseTo(141.8, 1);
  });

  test('takes standard gravity where none is given (3rd CGPM 1901: 9.80665)', () => {
    const { g_m_s2: _, ...rest } = practice;
    expect(resultOf(coreUplift, rest)).toEqual(resultOf(coreUplift, { ...rest, g_m_s2: 9.80665 }));
  });

  test('refuses what is no core', () => {
    expect(errorOf(coreUplift, { ...practice, height_mm: 0 })).toEqual({
      path: 'height_mm',
      message: 'must be greater than 0: a height',
    });
    expect(errorOf(coreUplift, { ...practice, core_density_kg_m3: -450 })).toEqual({
      path: 'core_density_kg_m3',
      message: 'must be greater than 0: a density',
    });
    expect(errorOf(coreUplift, { ...practice, g_m_s2: 0 })).toEqual({
      path: 'g_m_s2',
      message: 'must be greater than 0: gravity',
    });
    expect(errorOf(coreUplift, { ...practice, across_flats_mm: null }).message).toBe('must be a finite number');
  });

  test('goes with volume; core and glass changed over turn the sign', () => {
    const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(some(10, 500), some(10, 900), some(100, 4000), some(100, 4000), some(0.1, 10), (d, h, a, b, k) => {
        const input = { across_flats_mm: d, height_mm: h, core_density_kg_m3: a, glass_density_kg_m3: b };
        const o = resultOf(coreUplift, input);
        const swapped = resultOf(coreUplift, { ...input, core_density_kg_m3: b, glass_density_kg_m3: a });
        expect(swapped.uplift_N + o.uplift_N).toBe(0);
        const scaled = resultOf(coreUplift, { ...input, across_flats_mm: d * k, height_mm: h * k });
        expectRelative(scaled.volume_m3, o.volume_m3 * k ** 3, 1e-13);
      }),
      { seed: 1, numRuns: 200 },
    );
  });
});
