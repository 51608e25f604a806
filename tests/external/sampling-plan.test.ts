import { describe, expect, it } from 'vitest';
import { samplingPlan } from '../../shared/calculations/sampling-plan.ts';
import { describeOutsideChecks, errorOf, publishedData, resultOf } from './outside-checks.ts';

type Inspection = 'normal' | 'tightened' | 'reduced';
type Tables = Record<Inspection, { aql_percent: number[]; plans: Record<string, [number, number, number][]> }> & {
  source: string;
};
const tables = publishedData<Tables>('sampling-plan-tables');

/** A lot of each code letter at level III (A has none there: level II). */
const LOTS: Record<string, number> = {
  B: 8,
  C: 15,
  D: 25,
  E: 50,
  F: 90,
  G: 150,
  H: 280,
  J: 500,
  K: 1200,
  L: 3200,
  M: 10_000,
  N: 35_000,
  P: 150_000,
  Q: 500_000,
  R: 500_001,
};

describeOutsideChecks(samplingPlan);

describe('sampling-plan', () => {
  it.each(['normal', 'tightened', 'reduced'] as const)(
    `follows the whole table of %s inspection (${tables.source})`,
    (inspection) => {
      const { aql_percent, plans } = tables[inspection];
      for (const [letter, row] of Object.entries(plans)) {
        row.forEach(([size, accept, reject], k) => {
          const where = letter === 'A' ? { lot_size: 8 } : { lot_size: LOTS[letter]!, level: 'III' };
          const result = resultOf(samplingPlan, { ...where, aql_percent: aql_percent[k], inspection });
          expect(result, `${letter} at ${aql_percent[k]}`).toEqual({
            code_letter: letter,
            sample_size: Math.min(size, where.lot_size),
            accept,
            reject,
            table_sample_size: size,
          });
        });
      }
    },
  );

  it('never samples less for a larger lot of the same letter scheme, nor more than the lot', () => {
    let last = 0;
    for (const lot of [2, 9, 16, 26, 51, 91, 151, 281, 501, 1201, 3201, 10_001, 35_001, 150_001, 500_001]) {
      const { sample_size } = resultOf(samplingPlan, { lot_size: lot, aql_percent: 0.4 });
      expect(sample_size).toBeLessThanOrEqual(lot);
      expect(sample_size).toBeGreaterThanOrEqual(last);
      last = sample_size;
    }
  });

  it.each([
    [{ lot_size: 1, aql_percent: 1 }, 'lot_size', 'must be at least 2: a lot'],
    [{ lot_size: 10.5, aql_percent: 1 }, 'lot_size', 'must be a whole number'],
    [{ lot_size: 10, aql_percent: 1, level: 'IV' }, 'level', 'must be one of S-1, S-2, S-3, S-4, I, II, III'],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(samplingPlan, input)).toEqual({ path, message });
  });

  it('names the quality limits that the table has', () => {
    const { path, message } = errorOf(samplingPlan, { lot_size: 10, aql_percent: 2 });
    expect(path).toBe('aql_percent');
    expect(message).toContain('1.5, 2.5');
  });
});
