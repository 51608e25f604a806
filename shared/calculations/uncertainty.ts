import * as z from 'zod/mini';
import { defineCalculation, figure, given, type WorkingLine, workedOut } from './calculation.ts';
import { finite, notNegative } from './fields.ts';
import { studentUpper } from './numeric/student-quantile.ts';

const input = z.strictObject({
  components: z
    .array(
      z.strictObject({
        standard_uncertainty: notNegative('must not be negative: an uncertainty'),
        sensitivity: z.optional(finite()),
        degrees_of_freedom: z.optional(z.nullable(z.number().check(z.gte(1, 'must be at least 1')))),
      }),
    )
    .check(z.minLength(1)),
  coverage: z.optional(
    z.number().check(z.gt(0, 'must be greater than 0: a probability'), z.lt(1, 'must be less than 1: a probability')),
  ),
});
const output = z.strictObject({
  combined: z.number(),
  effective_degrees_of_freedom: z.nullable(z.number()),
  coverage_factor: z.number(),
  expanded: z.number(),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

const COVERAGE = 0.95;

const contributions = (i: Input): number[] => i.components.map((c) => (c.sensitivity ?? 1) * c.standard_uncertainty);

/** Welch-Satterthwaite, by shares so that no fourth power leaves the range of numbers; null where infinite. */
function effectiveFreedom(i: Input, combined: number): number | null {
  if (combined === 0) return null;
  const sum = contributions(i).reduce((total, term, k) => {
    const freedom = i.components[k]!.degrees_of_freedom;
    return freedom == null ? total : total + (term / combined) ** 4 / freedom;
  }, 0);
  return sum > 0 && Number.isFinite(1 / sum) ? 1 / sum : null;
}

/** Truncated down (GUM G.4.2); a whole number that rounding has put just below itself stays. */
const truncated = (freedom: number): number => Math.max(1, Math.floor(freedom * (1 + 1e-12)));

/** Standard uncertainties put together, and widened to an interval. */
export const uncertainty = defineCalculation<Input, Output>({
  name: 'uncertainty',
  title: 'Combined and expanded uncertainty',
  group: 'Measuring and judging',
  source: 'JCGM 100:2008 (GUM) 5.1.2, G.4.1 (Welch-Satterthwaite), G.4.2',
  formula: 'u_c = √Σ(c_i u_i)²; ν_eff = u_c⁴ / Σ((c_i u_i)⁴/ν_i); U = k u_c, k = t((1 + p)/2; ⌊ν_eff⌋)',
  validity: 'Components that do not depend on each other, about a result that is close to normal and to linear.',
  version: 1,
  input,
  output,
  compute(i) {
    const combined = Math.hypot(...contributions(i));
    const effective_degrees_of_freedom = effectiveFreedom(i, combined);
    const freedom =
      effective_degrees_of_freedom === null ? Number.POSITIVE_INFINITY : truncated(effective_degrees_of_freedom);
    const coverage_factor = studentUpper((1 - (i.coverage ?? COVERAGE)) / 2, freedom);
    return { combined, effective_degrees_of_freedom, coverage_factor, expanded: coverage_factor * combined };
  },
  working(i, o) {
    const lines: WorkingLine[] = i.components.map((c, k) =>
      workedOut(
        `c${k + 1} u${k + 1}`,
        `component ${k + 1}, degrees of freedom ${c.degrees_of_freedom ?? 'infinite'}`,
        contributions(i)[k]!,
        '',
        `${figure(c.sensitivity ?? 1)} · ${figure(c.standard_uncertainty)}`,
      ),
    );
    const coverage = i.coverage ?? COVERAGE;
    const nu = o.effective_degrees_of_freedom;
    return [
      ...lines,
      workedOut(
        'u_c',
        'combined standard uncertainty',
        o.combined,
        '',
        `√(${contributions(i)
          .map((t) => `${figure(Math.abs(t))}²`)
          .join(' + ')})`,
        'GUM 5.1.2',
      ),
      workedOut(
        'ν_eff',
        'effective degrees of freedom',
        nu,
        '',
        nu === null ? 'infinite: no component limits it' : 'u_c⁴ / Σ((c_i u_i)⁴/ν_i)',
        'GUM G.4.1',
      ),
      given('p', 'coverage', coverage, '', i.coverage === undefined ? 'usual' : 'given'),
      workedOut(
        'k',
        'coverage factor',
        o.coverage_factor,
        '',
        nu === null
          ? `normal quantile at ${figure((1 + coverage) / 2)}`
          : `Student quantile at ${figure((1 + coverage) / 2)} for ${truncated(nu)} degrees of freedom`,
        'GUM G.4.2',
      ),
      workedOut('U', 'expanded uncertainty', o.expanded, '', `${figure(o.coverage_factor)} · ${figure(o.combined)}`),
    ];
  },
});
