import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, type WorkingLine, workedOut } from './calculation.ts';
import { finite, notNegative } from './fields.ts';
import { normalInterval } from './numeric/normal-interval.ts';

/** Conformity proven, nonconformity proven, or neither: the value lies inside the uncertainty. */
export type Verdict = 'within' | 'outside' | 'not-proven';

const input = z.strictObject({
  value: finite(),
  standard_uncertainty: notNegative('must not be negative: an uncertainty'),
  lower_limit: z.optional(z.nullable(finite())),
  upper_limit: z.optional(z.nullable(finite())),
  guard_factor: z.optional(notNegative('must not be negative: the guard lies inside the limits')),
});
const output = z.strictObject({
  lower_acceptance: z.nullable(z.number()),
  upper_acceptance: z.nullable(z.number()),
  probability_within: z.number(),
  verdict: z.enum(['within', 'outside', 'not-proven']),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** 95 % on one side of a normal distribution (z = 1.645), rounded up. */
const GUARD_FACTOR = 1.65;
/** The least probability of conformity where both limits are near (ISO 14253-1). */
const LEAST_PROBABILITY = 0.95;
const DIGITS = 12;

const rounded = (x: number): number => Number(x.toPrecision(DIGITS));

/**
 * limit + shift, rounded to 12 digits of the larger term: where the two nearly cancel, the rest of the
 * subtraction is no digit of the result.
 */
function boundary(limit: number, shift: number): number {
  const larger = Math.max(Math.abs(limit), Math.abs(shift));
  const sum = rounded(limit + shift);
  return Math.abs(sum) < larger * 10 ** -DIGITS ? 0 : sum;
}

/** From the value to a limit in standard uncertainties; without uncertainty a value on the limit is within. */
function deviation(limit: number, value: number, u: number, inward: 1 | -1): number {
  if (u > 0) return (limit - value) / u;
  const onLimit = rounded(limit) === rounded(value);
  return (onLimit ? -inward : limit - value) * Number.POSITIVE_INFINITY;
}

function probabilityWithin(i: Input): number {
  const { value, standard_uncertainty: u, lower_limit: lower, upper_limit: upper } = i;
  const a = lower == null ? Number.NEGATIVE_INFINITY : deviation(lower, value, u, 1);
  const b = upper == null ? Number.POSITIVE_INFINITY : deviation(upper, value, u, -1);
  return normalInterval(a, b);
}

function verdictOf(i: Input, probability: number): Verdict {
  const { lower_limit: lower, upper_limit: upper } = i;
  const guard = (i.guard_factor ?? GUARD_FACTOR) * i.standard_uncertainty;
  const value = rounded(i.value);
  const aboveLower = lower == null || value >= boundary(lower, guard);
  const belowUpper = upper == null || value <= boundary(upper, -guard);
  // Two near limits share the 5 %: inside both acceptance limits is then not yet 95 %.
  const bothNear = lower != null && upper != null && i.guard_factor === undefined;
  const probable = !bothNear || rounded(probability) >= LEAST_PROBABILITY;
  if (aboveLower && belowUpper && probable) return 'within';
  const beyondLower = lower != null && value <= boundary(lower, -guard);
  const beyondUpper = upper != null && value >= boundary(upper, guard);
  return beyondLower || beyondUpper ? 'outside' : 'not-proven';
}

/** The verdict on a measured value with its uncertainty against its limits. */
export const conformity = defineCalculation<Input, Output>({
  name: 'conformity',
  title: 'Conformity with limits',
  group: 'Measuring and judging',
  source: 'ISO 14253-1:2017, decision rules; JCGM 106:2012, 7.3, 7.4 and 8.3',
  formula:
    'within: lower + g u ≤ y ≤ upper − g u; outside: y ≤ lower − g u or y ≥ upper + g u; P = Φ((upper − y)/u) − Φ((lower − y)/u)',
  validity:
    'The true value is taken as normal about the measured one. With two limits and the usual guard, within also needs a probability of 0.95. Compared after rounding to 12 significant digits.',
  version: 1,
  input,
  output,
  compute(i) {
    const { lower_limit: lower, upper_limit: upper } = i;
    if (lower == null && upper == null) throw new RefusedInput('', 'needs a lower limit, an upper limit or both');
    if (lower != null && upper != null && lower >= upper)
      throw new RefusedInput('upper_limit', 'must be greater than the lower limit');
    const guard = (i.guard_factor ?? GUARD_FACTOR) * i.standard_uncertainty;
    const probability_within = probabilityWithin(i);
    return {
      lower_acceptance: lower == null ? null : lower + guard,
      upper_acceptance: upper == null ? null : upper - guard,
      probability_within,
      verdict: verdictOf(i, probability_within),
    };
  },
  working(i, o) {
    const g = i.guard_factor ?? GUARD_FACTOR;
    const lines: WorkingLine[] = [
      given('y', 'measured value', i.value, ''),
      given('u', 'standard uncertainty', i.standard_uncertainty, ''),
      given('g', 'guard factor', g, '', i.guard_factor === undefined ? 'ISO 14253-1, 95 % on one side' : 'given'),
      workedOut('g u', 'guard', g * i.standard_uncertainty, '', `${figure(g)} · ${figure(i.standard_uncertainty)}`),
    ];
    if (i.lower_limit != null)
      lines.push(
        given('lower', 'lower limit', i.lower_limit, ''),
        workedOut(
          'lower + g u',
          'lower acceptance limit',
          o.lower_acceptance,
          '',
          `${figure(i.lower_limit, 9)} + ${figure(g * i.standard_uncertainty)}`,
          'ISO 14253-1',
        ),
      );
    if (i.upper_limit != null)
      lines.push(
        given('upper', 'upper limit', i.upper_limit, ''),
        workedOut(
          'upper − g u',
          'upper acceptance limit',
          o.upper_acceptance,
          '',
          `${figure(i.upper_limit, 9)} − ${figure(g * i.standard_uncertainty)}`,
          'ISO 14253-1',
        ),
      );
    lines.push(
      workedOut(
        'P',
        'probability that the true value is within',
        o.probability_within,
        '',
        probabilityFormula(i),
        'JCGM 106, 7',
      ),
      workedOut('verdict', 'after the decision rule', o.verdict, '', reason(i, o), 'ISO 14253-1'),
    );
    return lines;
  },
});

function probabilityFormula(i: Input): string {
  if (i.standard_uncertainty === 0) return 'u = 0: 1 where the value lies within the limits, else 0';
  const at = (limit: number) => `(${figure(limit, 9)} − ${figure(i.value, 9)})/${figure(i.standard_uncertainty)}`;
  const upper = i.upper_limit == null ? '1' : `Φ(${at(i.upper_limit)})`;
  return i.lower_limit == null ? upper : `${upper} − Φ(${at(i.lower_limit)})`;
}

function reason(i: Input, o: Output): string {
  const y = figure(i.value, 12);
  if (o.verdict === 'within') return `${y} lies inside the acceptance limits`;
  if (o.verdict === 'outside') return `${y} lies beyond a limit by the guard or more`;
  const inside =
    (o.lower_acceptance === null || i.value >= o.lower_acceptance) &&
    (o.upper_acceptance === null || i.value <= o.upper_acceptance);
  return inside
    ? `${y} lies inside the acceptance limits, but P is below ${LEAST_PROBABILITY} with both limits near`
    : `${y} lies in the guard about a limit: neither is proven`;
}
