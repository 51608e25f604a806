import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bandLoad } from '../../shared/calculations/band-load.ts';
import { describeOutsideChecks, errorOf, expectRelative, resultOf } from './outside-checks.ts';

const practice = { inner_diameter_mm: 3217.36, glass_head_mm: 405, density_kg_m3: 2230, g_m_s2: 9.790179 };

describe('band-load', () => {
  describeOutsideChecks(bandLoad);

  test('derived figures of the practice blank', () => {
    const o = resultOf(bandLoad, practice);
    expect(o.pressure_at_foot_kPa).toBeCloseTo(8.842, 3);
    expect(o.hoop_load_at_foot_kN_m).toBeCloseTo(14.22, 2);
    expect(o.hoop_load_kN).toBeCloseTo(2.88, 3);
  });

  test('takes standard gravity where none is given (3rd CGPM 1901: 9.80665)', () => {
    const { g_m_s2: _, ...rest } = practice;
    expect(resultOf(bandLoad, rest)).toEqual(resultOf(bandLoad, { ...rest, g_m_s2: 9.80665 }));
  });

  test('refuses what holds no glass', () => {
    expect(errorOf(bandLoad, { ...practice, glass_head_mm: 0 })).toEqual({
      path: 'glass_head_mm',
      message: 'must be greater than 0: a head of glass',
    });
    expect(errorOf(bandLoad, { ...practice, inner_diameter_mm: -3 })).toEqual({
      path: 'inner_diameter_mm',
      message: 'must be greater than 0: a diameter',
    });
    expect(errorOf(bandLoad, { ...practice, density_kg_m3: '2230' })).toEqual({
      path: 'density_kg_m3',
      message: 'must be a finite number',
    });
    expect(errorOf(bandLoad, { ...practice, inner_diameter_mm: 1e308, density_kg_m3: 1e308 }).message).toBe(
      'these numbers lead outside what can be computed',
    );
  });

  test('bands of any spacing together carry the whole, and the foot carries most', () => {
    const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        some(500, 9000),
        some(10, 1500),
        some(1000, 4000),
        fc.integer({ min: 1, max: 12 }),
        (d, h, rho, n) => {
          const load = (head: number) =>
            resultOf(bandLoad, { inner_diameter_mm: d, glass_head_mm: head, density_kg_m3: rho });
          // Each band takes the part between two depths: the difference of two wetted walls.
          const parts = Array.from({ length: n }, (_, k) => {
            const above = k === 0 ? 0 : load((h * k) / n).hoop_load_kN;
            return load((h * (k + 1)) / n).hoop_load_kN - above;
          });
          const whole = load(h);
          expectRelative(
            parts.reduce((a, b) => a + b),
            whole.hoop_load_kN,
            1e-12,
          );
          expect(Math.max(...parts)).toBe(parts.at(-1));
          expectRelative(whole.hoop_load_at_foot_kN_m * (h / 2000), whole.hoop_load_kN, 1e-14);
        },
      ),
      { seed: 1, numRuns: 200 },
    );
  });
});
