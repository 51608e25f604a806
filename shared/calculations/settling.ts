import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, type WorkingLine, workedOut } from './calculation.ts';
import { finite, positive } from './fields.ts';
import { fitLine } from './numeric/line-fit.ts';
import { fitSettling } from './numeric/settling-fit.ts';

const input = z.strictObject({
  readings: z
    .array(z.strictObject({ at_h: finite(), level_mm: finite() }))
    .check(z.minLength(5, 'needs at least 5 readings')),
  settled_mm: z._default(positive('must be greater than 0: what may still remain'), 0.5),
});
const output = z.strictObject({
  final_level_mm: z.nullable(z.number()),
  time_constant_h: z.nullable(z.number()),
  remaining_mm: z.nullable(z.number()),
  remaining_standard_error_mm: z.optional(z.number()),
  settled: z.boolean(),
  /** Why no settling can be told. */
  reason: z.optional(z.string()),
  rate_mm_h: z.optional(z.number()),
  rate_standard_error_mm_h: z.optional(z.number()),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Readings in order of time, as parts of the record's span and of the spread of the levels. */
function scaled(readings: Input['readings']) {
  const sorted = [...readings].sort((a, b) => a.at_h - b.at_h);
  const start_h = sorted[0]?.at_h ?? 0;
  const span_h = (sorted.at(-1)?.at_h ?? 0) - start_h;
  const least = sorted.reduce((m, r) => Math.min(m, r.level_mm), Number.POSITIVE_INFINITY);
  const most = sorted.reduce((m, r) => Math.max(m, r.level_mm), Number.NEGATIVE_INFINITY);
  const spread_mm = most - least || 1;
  if (!Number.isFinite(span_h) || !Number.isFinite(spread_mm)) {
    throw new RefusedInput('readings', 'lie too far apart to be computed');
  }
  return {
    start_h,
    span_h,
    least,
    spread_mm,
    xs: sorted.map((r) => (r.at_h - start_h) / span_h),
    ys: sorted.map((r) => (r.level_mm - least) / spread_mm),
    /** What the last digit of the levels leaves open, as part of the spread. */
    rounding: (Number.EPSILON * Math.max(Math.abs(least), Math.abs(most))) / spread_mm,
  };
}

/** True where the curve's third constant brings nothing that chance would not (F test with 1 and n − 3, 95 %). */
function lineIsAsGood(lineSquares: number, curveSquares: number, count: number, rounding: number): boolean {
  if (lineSquares <= count * (8 * rounding) ** 2) return true;
  // F(0.95; 1, m) is the square of the two-sided Student quantile.
  const critical = tQuantile(0.975, count - 3) ** 2;
  return (lineSquares - curveSquares) * (count - 3) <= critical * curveSquares;
}

/** Whether a falling glass level has come to rest, from a fitted exponential. */
export const settling = defineCalculation<Input, Output>({
  name: 'settling',
  title: 'Settling of the glass level',
  group: 'Heat and glass',
  source:
    'Least squares by variable projection, G. H. Golub and V. Pereyra, SIAM J. Numer. Anal. 10 (1973) 413; F test for one more constant as in N. R. Draper and H. Smith, Applied Regression Analysis',
  formula: 'level = final + fall · exp(−(t − t0)/τ); remaining = fall · exp(−(t_last − t0)/τ)',
  validity:
    'One even settling with readings of like uncertainty. Settled: remaining + 2 standard errors below the limit, and a record of at least 2 τ.',
  version: 1,
  input,
  output,
  compute(i) {
    if (new Set(i.readings.map((r) => r.at_h)).size < 3) {
      throw new RefusedInput('readings', 'need at least 3 different times');
    }
    const s = scaled(i.readings);
    const line = fitLine(s.xs, s.ys);
    const curve = fitSettling(s.xs, s.ys);
    const noFit = (reason: string): Output => ({
      final_level_mm: null,
      time_constant_h: null,
      remaining_mm: null,
      settled: false,
      reason,
      rate_mm_h: line.slope * (s.spread_mm / s.span_h) + 0,
      rate_standard_error_mm_h: (line.slopeError ?? 0) * (s.spread_mm / s.span_h),
    });
    if (lineIsAsGood(line.residualSquares, curve.residualSquares, i.readings.length, s.rounding)) {
      return noFit(
        line.slope > 2 * (line.slopeError ?? 0)
          ? 'the level rises'
          : 'a straight line fits as well: no settling to be told',
      );
    }
    if (curve.fall <= 0) return noFit('the level rises');
    if (!curve.isDetermined)
      return noFit('the readings tell no time constant: the fall is over between two of them, or outlasts them by far');
    const time_constant_h = curve.timeConstant * s.span_h;
    const remaining_mm = curve.remaining * s.spread_mm;
    const remaining_standard_error_mm = curve.remainingError * s.spread_mm;
    return {
      final_level_mm: s.least + curve.final * s.spread_mm,
      time_constant_h,
      remaining_mm,
      remaining_standard_error_mm,
      settled: remaining_mm + 2 * remaining_standard_error_mm < i.settled_mm && s.span_h >= 2 * time_constant_h,
    };
  },
  working(i, o) {
    const { start_h, span_h } = scaled(i.readings);
    const lines: WorkingLine[] = [
      given('n', 'readings', i.readings.length, '–'),
      given('t0', 'first reading', start_h, 'h'),
      workedOut('span', 'length of the record', span_h, 'h', `${figure(start_h + span_h)} − ${figure(start_h)}`),
      given('limit', 'settled when less than this remains', i.settled_mm, 'mm'),
    ];
    if (o.time_constant_h === null) {
      return [
        ...lines,
        workedOut('rate', 'slope of the straight line', o.rate_mm_h ?? null, 'mm/h', 'least squares'),
        workedOut(
          'u(rate)',
          'standard error of the slope',
          o.rate_standard_error_mm_h ?? null,
          'mm/h',
          's / √Σ(t − t̄)²',
        ),
        workedOut('settled', o.reason ?? '', 'no', '', 'F test of the exponential against the line, 95 %'),
      ];
    }
    const remaining = figure(o.remaining_mm ?? 0);
    const error = figure(o.remaining_standard_error_mm ?? 0);
    return [
      ...lines,
      workedOut('final', 'level at rest', o.final_level_mm, 'mm', 'least squares'),
      workedOut('τ', 'time constant', o.time_constant_h, 'h', 'least squares'),
      workedOut('remaining', 'still to fall after the last reading', o.remaining_mm, 'mm', 'fall · exp(−span/τ)'),
      workedOut(
        'u(remaining)',
        'standard error of that',
        o.remaining_standard_error_mm ?? null,
        'mm',
        'from the covariance of the fit',
      ),
      workedOut(
        'settled',
        'remaining + 2 standard errors below the limit, span at least 2 τ',
        o.settled ? 'yes' : 'no',
        '',
        `${remaining} + 2 · ${error} against ${figure(i.settled_mm)}; ${figure(span_h)} against 2 · ${figure(o.time_constant_h)}`,
      ),
    ];
  },
});
