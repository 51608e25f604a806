import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, workedOut } from './calculation.ts';
import { finite } from './fields.ts';
import { studentUpper } from './numeric/student-quantile.ts';

const input = z.strictObject({
  values: z.array(finite()).check(z.minLength(3)),
  alpha: z.optional(
    z
      .number()
      .check(
        z.gt(0, 'must be greater than 0: a probability'),
        z.gte(1e-250, 'is too small to be computed'),
        z.lt(1, 'must be less than 1: a probability'),
      ),
  ),
});
const output = z.strictObject({
  statistic: z.number(),
  critical: z.number(),
  outlier_index: z.nullable(z.int()),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

const ALPHA = 0.05;

/** Deviations from the mean over the greatest difference to the first value; all 0 for equal values. */
function deviations(values: readonly number[]): number[] {
  const differences = values.map((value) => value - values[0]!);
  const scale = Math.max(...differences.map(Math.abs));
  if (!Number.isFinite(scale)) throw new RefusedInput('values', 'lie too far apart to be computed');
  if (scale === 0) return differences;
  const scaled = differences.map((d) => d / scale);
  const mean = scaled.reduce((sum, d) => sum + d, 0) / scaled.length;
  return scaled.map((d) => d - mean);
}

/** Grubbs' two-sided test for one value that does not belong to the others. */
export const grubbs = defineCalculation<Input, Output>({
  name: 'grubbs',
  title: 'Grubbs test for an outlier',
  group: 'Measuring and judging',
  source: 'Grubbs, Technometrics 11 (1969); NIST/SEMATECH e-Handbook 1.3.5.17.1',
  formula: 'G = max|x_i − x̄|/s; G_crit = (n − 1)/√n · √(t²/(n − 2 + t²)), t at α/(2n) with n − 2',
  validity: 'Values from a normal distribution but for one at most. A signal to look for a cause, no leave to strike.',
  version: 1,
  input,
  output,
  compute({ values, alpha = ALPHA }) {
    const n = values.length;
    const d = deviations(values);
    const s = Math.sqrt(d.reduce((sum, x) => sum + x * x, 0) / (n - 1));
    let farthest = 0;
    // Two values equally far but for rounding: the first counts.
    for (let k = 1; k < n; k++) if (Math.abs(d[k]!) > Math.abs(d[farthest]!) * (1 + 1e-12)) farthest = k;
    const statistic = s === 0 ? 0 : Math.abs(d[farthest]!) / s;
    const t = studentUpper(alpha / (2 * n), n - 2);
    const critical = (n - 1) / Math.sqrt(n) / Math.sqrt(1 + (n - 2) / t / t);
    return { statistic, critical, outlier_index: statistic > critical ? farthest : null };
  },
  working(i, o) {
    const n = i.values.length;
    const alpha = i.alpha ?? ALPHA;
    const tail = alpha / (2 * n);
    const t = studentUpper(tail, n - 2);
    return [
      given('n', 'values', n, ''),
      given('α', 'risk of a false signal', alpha, '', i.alpha === undefined ? 'usual' : 'given'),
      workedOut('G', 'greatest distance from the mean over the standard deviation', o.statistic, '', 'max|x_i − x̄|/s'),
      workedOut(
        't',
        'Student quantile',
        // Beyond the greatest number for a risk of next to nothing; the critical value has its limit then.
        Number.isFinite(t) ? t : null,
        '',
        `upper ${figure(tail)} for ${n - 2} degrees of freedom`,
      ),
      workedOut(
        'G_crit',
        'critical value',
        o.critical,
        '',
        `${n - 1}/√${n} · √(t²/(${n - 2} + t²))`,
        'NIST/SEMATECH e-Handbook 1.3.5.17.1',
      ),
      workedOut(
        'outlier',
        'index of the outlier, counted from 0',
        o.outlier_index,
        '',
        `${figure(o.statistic)} ${o.outlier_index === null ? '≤' : '>'} ${figure(o.critical)}`,
      ),
    ];
  },
});
