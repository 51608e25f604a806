import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, workedOut } from './calculation.ts';
import { finite } from './fields.ts';

const input = z.strictObject({
  values: z.array(finite()).check(z.minLength(2)),
  baseline_count: z.optional(z.int().check(z.gte(2, 'must be at least 2'))),
});
const output = z.strictObject({
  mean: z.number(),
  moving_range_mean: z.number(),
  sigma: z.number(),
  lower_limit: z.number(),
  upper_limit: z.number(),
  signals: z.array(z.strictObject({ index: z.int(), rule: z.int() })),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Mean range of two normal values over their standard deviation, as the tables print it. */
const D2 = 1.128;

/** A rule: at least `least` of the last `of` values beyond `sigmas` on one side. */
const RULES = [
  { rule: 1, least: 1, of: 1, sigmas: 3 },
  { rule: 2, least: 2, of: 3, sigmas: 2 },
  { rule: 3, least: 4, of: 5, sigmas: 1 },
  { rule: 4, least: 8, of: 8, sigmas: 0 },
] as const;

/** Signals in order of index, then rule; the value at the index completes the pattern and belongs to it. */
function signalsIn(deviations: readonly number[], sigma: number): Output['signals'] {
  // Strictly beyond: what rounding alone puts beyond a line is on it.
  const rounding = 1e-12 * deviations.reduce((most, d) => Math.max(most, Math.abs(d)), 0);
  const beyond = (index: number, side: number, sigmas: number) => side * deviations[index]! > sigmas * sigma + rounding;
  return deviations.flatMap((deviation, index) => {
    const side = Math.sign(deviation);
    return RULES.filter(({ least, of, sigmas }) => {
      if (!beyond(index, side, sigmas)) return false;
      let count = 0;
      for (let k = Math.max(0, index - of + 1); k <= index; k++) if (beyond(k, side, sigmas)) count++;
      return count >= least;
    }).map(({ rule }) => ({ index, rule }));
  });
}

/** Chart of single values with limits from the moving range, and the four classic run rules. */
export const controlChart = defineCalculation<Input, Output>({
  name: 'control-chart',
  title: 'Control chart of single values',
  group: 'Measuring and judging',
  source: 'NIST/SEMATECH e-Handbook 6.3.2.2 (individuals) and 6.3.2 (run rules); ISO 7870-2:2013',
  formula: 'σ = mean|x_i − x_(i−1)|/1.128; limits x̄ ± 3σ',
  validity: 'Values in the order in which they were made, close to normal. The baseline sets mean and limits for all.',
  version: 1,
  input,
  output,
  compute({ values, baseline_count = values.length }) {
    if (baseline_count > values.length)
      throw new RefusedInput('baseline_count', `must be at most ${values.length}, the number of values`);
    const first = values[0]!;
    const differences = values.map((value) => value - first);
    const baseline = differences.slice(0, baseline_count);
    const shift = baseline.reduce((sum, d) => sum + d / baseline_count, 0);
    const ranges = baseline.slice(1).map((_, k) => Math.abs(values[k + 1]! - values[k]!));
    const moving_range_mean = ranges.reduce((sum, r) => sum + r / ranges.length, 0);
    const sigma = moving_range_mean / D2;
    const mean = first + shift;
    return {
      mean,
      moving_range_mean,
      sigma,
      lower_limit: mean - 3 * sigma,
      upper_limit: mean + 3 * sigma,
      signals: signalsIn(
        differences.map((d) => d - shift),
        sigma,
      ),
    };
  },
  working(i, o) {
    const baseline = i.baseline_count ?? i.values.length;
    const limit = (sign: string) => `${figure(o.mean, 9)} ${sign} 3 · ${figure(o.sigma)}`;
    return [
      given('n', 'values', i.values.length, ''),
      given(
        'b',
        'values that set the limits, from the start',
        baseline,
        '',
        i.baseline_count === undefined ? 'all' : 'given',
      ),
      workedOut('x̄', 'mean of these', o.mean, '', `sum of ${baseline} values / ${baseline}`),
      workedOut(
        'MR',
        'mean moving range',
        o.moving_range_mean,
        '',
        `mean of ${baseline - 1} differences |x_i − x_(i−1)|`,
      ),
      workedOut(
        'σ',
        'standard deviation',
        o.sigma,
        '',
        `${figure(o.moving_range_mean)} / ${D2}`,
        'NIST/SEMATECH e-Handbook 6.3.2.2',
      ),
      workedOut('lower', 'lower limit', o.lower_limit, '', limit('−')),
      workedOut('upper', 'upper limit', o.upper_limit, '', limit('+')),
      workedOut(
        'signals',
        'index and rule: 1 beyond 3σ; 2 two of three beyond 2σ; 3 four of five beyond 1σ; 4 eight on one side',
        o.signals.length === 0 ? 'none' : o.signals.map((s) => `${s.index}: ${s.rule}`).join(', '),
        '',
        'strictly beyond, on one side; a value on the mean ends a run',
        'NIST/SEMATECH e-Handbook 6.3.2',
      ),
    ];
  },
});
