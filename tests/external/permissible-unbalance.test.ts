import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { permissibleUnbalance } from '../../shared/calculations/permissible-unbalance.ts';
import { describeOutsideChecks, errorOf, expectRelative, resultOf, workingOf } from './outside-checks.ts';

const practice = { mass_kg: 24_000, rotation_rate_rpm: 9.32889, grade_mm_s: 6.3 };

describe('permissible-unbalance', () => {
  describeOutsideChecks(permissibleUnbalance);

  test('derived figures of the practice blank', () => {
    const o = resultOf(permissibleUnbalance, practice);
    expect(o.eccentricity_um / 1000).toBeCloseTo(6.449, 3);
    expect(o.unbalance_g_mm / 1e6).toBeCloseTo(154.8, 1);
  });

  test('refuses what does not turn', () => {
    expect(errorOf(permissibleUnbalance, { ...practice, rotation_rate_rpm: 0 })).toEqual({
      path: 'rotation_rate_rpm',
      message: 'must be greater than 0: a rate',
    });
    expect(errorOf(permissibleUnbalance, { ...practice, mass_kg: -1 })).toEqual({
      path: 'mass_kg',
      message: 'must be greater than 0: a mass',
    });
    expect(errorOf(permissibleUnbalance, { ...practice, grade_mm_s: 0 })).toEqual({
      path: 'grade_mm_s',
      message: 'must be greater than 0: a balance quality grade',
    });
    expect(errorOf(permissibleUnbalance, { ...practice, rotation_rate_rpm: 1e-310 }).message).toBe(
      'these numbers lead outside what can be computed',
    );
  });

  test('the mass centre runs at the speed of the grade (definition of G in ISO 21940-11)', () => {
    const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(some(1, 1e5), some(0.1, 1e5), some(0.4, 4000), (m, n, grade) => {
        const o = resultOf(permissibleUnbalance, { mass_kg: m, rotation_rate_rpm: n, grade_mm_s: grade });
        expectRelative((o.eccentricity_um / 1000) * 2 * Math.PI * (n / 60), grade, 1e-14);
        expectRelative(o.unbalance_g_mm / m, o.eccentricity_um, 1e-14);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  test('the working says that it is a comparison only', () => {
    expect(workingOf(permissibleUnbalance, practice).at(-1)!.meaning).toBe(
      "a comparison only: a turntable's limit comes from its bearing and drive, in kg mm, in the plan",
    );
  });
});
