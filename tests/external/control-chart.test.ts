import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { controlChart } from '../../shared/calculations/control-chart.ts';
import { describeOutsideChecks, errorOf, publishedData, resultOf } from './outside-checks.ts';

interface RuleCheck {
  id: string;
  values: number[];
  /** Last index of each pattern, counted from 1, by the name of the rule. */
  ends: Record<string, number[]>;
  source: string;
}
/** The names that the published checks give to our rules. */
const NAMES = ['', 'N1', 'N5_WE2', 'N6_WE3', 'WE4'];

describeOutsideChecks(controlChart);

/** A baseline with mean 0 and sigma 1, after which a value on the mean and the values of a check follow. */
const D2 = 1.128;
const baseline = [-D2 / 2, D2 / 2, -D2 / 2, D2 / 2, -D2 / 2, D2 / 2];

describe('control-chart', () => {
  it.each(publishedData<RuleCheck[]>('control-chart-rules').map((c) => [c.id, c.source, c] as const))(
    'signals as published: %s (%s)',
    (_id, _source, check) => {
      const result = resultOf(controlChart, {
        values: [...baseline, 0, ...check.values],
        baseline_count: baseline.length,
      });
      expect(result.mean).toBeCloseTo(0, 12);
      expect(result.sigma).toBeCloseTo(1, 12);
      for (const rule of [1, 2, 3, 4]) {
        const found = result.signals.filter((s) => s.rule === rule).map((s) => s.index - baseline.length);
        const values = check.values;
        // Ours must belong to the pattern: a published end on the other side of the mean counts where it was complete.
        const expected = (check.ends[NAMES[rule]!] ?? []).map((end) =>
          values[end - 1]! * values[end - 2]! < 0 && rule === 2 ? end - 1 : end,
        );
        expect(found).toEqual(expected);
      }
    },
  );

  it('moves with the values and scales with the unit', () => {
    const list = fc.array(
      fc.integer({ min: -99, max: 99 }).map((k) => k / 10),
      { minLength: 3, maxLength: 40 },
    );
    fc.assert(
      fc.property(list, (values) => {
        const one = resultOf(controlChart, { values });
        const other = resultOf(controlChart, { values: values.map((v) => 1000 - 4 * v) });
        expect(other.sigma).toBeCloseTo(4 * one.sigma, 9);
        expect(other.upper_limit).toBeCloseTo(1000 - 4 * one.lower_limit, 9);
        expect(other.signals).toEqual(one.signals);
      }),
      { seed: 1, numRuns: 200, endOnFailure: true },
    );
  });

  it('ends a run at a point on the mean', () => {
    const signalsAfter = (...tail: number[]) =>
      resultOf(controlChart, { values: [...baseline, ...tail], baseline_count: baseline.length }).signals;
    expect(signalsAfter(0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5)).toEqual([{ index: 12, rule: 4 }]);
    expect(signalsAfter(0.5, 0.5, 0.5, 0, 0.5, 0.5, 0.5, 0.5)).toEqual([]);
  });

  it('sees nothing in equal values', () => {
    expect(resultOf(controlChart, { values: [0.1, 0.1, 0.1] })).toMatchObject({ sigma: 0, signals: [] });
  });

  it.each([
    [{ values: [1] }, 'values', 'needs at least 2'],
    [{ values: [1, 2], baseline_count: 3 }, 'baseline_count', 'must be at most 2, the number of values'],
    [{ values: [1, 2, 3], baseline_count: 1 }, 'baseline_count', 'must be at least 2'],
    [{ values: [1, 2, 3], limits: 1 }, '', 'has unknown keys: limits'],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(controlChart, input)).toEqual({ path, message });
  });
});
