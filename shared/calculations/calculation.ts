import type * as z from 'zod/mini';

/**
 * One calculation: a pure function with schemas, a source and a working.
 * Each lives in a file named after it and is listed once in `registry.ts`.
 */
export interface Calculation<I = unknown, O = unknown> {
  readonly name: string;
  /** What it works out, in a few words, for people. */
  readonly title: string;
  readonly group: 'Shape and spin' | 'Measuring and judging' | 'Heat and glass' | 'Planning and proof';
  /** The published source of the formula: standard, book or paper, with its place in it. */
  readonly source: string;
  /** The formula as a person would write it on paper, plain text. */
  readonly formula: string;
  /** Where the formula holds and what it leaves out. */
  readonly validity: string;
  /** Goes up when the same input may give another answer; kept with each verdict in the log. */
  readonly version: number;
  readonly input: z.ZodMiniType<I>;
  readonly output: z.ZodMiniType<O>;
  /** @throws {RefusedInput} when the input is well-formed but the physics or the method refuses it. */
  compute(input: I): O;
  /** The lines a person follows by hand, from the numbers put in to the result. */
  working(input: I, output: O): WorkingLine[];
}

export interface WorkingLine {
  /** As in the formula, e.g. `R_hot`. */
  readonly symbol: string;
  readonly meaning: string;
  readonly value: number | string | null;
  readonly unit: string;
  /** The formula with its numbers put in, where the line is worked out and not given. */
  readonly formula?: string;
  /** Where the number comes from: `given`, a standard, a data sheet, `worked out`. */
  readonly source: string;
}

/** A refusal in our own words; `path` points into the input, dotted, '' for the whole. */
export class RefusedInput extends Error {
  constructor(
    readonly path: string,
    message: string,
  ) {
    super(message);
    this.name = 'RefusedInput';
  }
}

export type Outcome<O> = { result: O; working: WorkingLine[] } | { error: { path: string; message: string } };

/** Ties the types of `compute` and `working` to the schemas. */
export function defineCalculation<I, O>(calculation: Calculation<I, O>): Calculation<I, O> {
  return calculation;
}

/** Parses, computes and works out; never throws for bad input. Errors are in our own words. */
export function runCalculation<I, O>(calculation: Calculation<I, O>, input: unknown): Outcome<O> {
  const parsed = calculation.input.safeParse(input, { error: issueMessage });
  if (!parsed.success) {
    const issue = parsed.error.issues[0]!;
    return { error: { path: issue.path.map(String).join('.'), message: issue.message } };
  }
  try {
    const result = calculation.compute(parsed.data);
    requireFinite(result);
    return { result, working: calculation.working(parsed.data, result) };
  } catch (error) {
    if (error instanceof RefusedInput) return { error: { path: error.path, message: error.message } };
    throw error;
  }
}

function requireFinite(value: unknown): void {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new RefusedInput('', 'these numbers lead outside what can be computed');
  }
  if (value !== null && typeof value === 'object') Object.values(value).forEach(requireFinite);
}

type RawIssue = Parameters<z.core.$ZodErrorMap>[0];

/** Our own words for every way in which zod refuses an input. */
export function issueMessage(issue: RawIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      if (issue.input === undefined) return 'is missing';
      return `must be ${nameOf(issue.expected)}`;
    case 'too_small':
      return issue.origin === 'array'
        ? `needs at least ${issue.minimum}`
        : `must be ${issue.inclusive ? 'at least' : 'greater than'} ${issue.minimum}`;
    case 'too_big':
      return issue.origin === 'array'
        ? `takes at most ${issue.maximum}`
        : `must be ${issue.inclusive ? 'at most' : 'less than'} ${issue.maximum}`;
    case 'unrecognized_keys':
      return `has unknown keys: ${issue.keys.join(', ')}`;
    case 'invalid_value':
      if (issue.input === undefined) return 'is missing';
      return `must be one of ${issue.values.map(String).join(', ')}`;
    default:
      return 'is not of a form that this calculation takes';
  }
}

const nameOf = (expected: string): string =>
  expected === 'number'
    ? 'a finite number'
    : expected === 'int'
      ? 'a whole number'
      : /^[aeiou]/.test(expected)
        ? `an ${expected}`
        : `a ${expected}`;

/** Given line of a working. */
export const given = (
  symbol: string,
  meaning: string,
  value: number | string | null,
  unit: string,
  source = 'given',
): WorkingLine => ({
  symbol,
  meaning,
  value,
  unit,
  source,
});

/** Worked-out line of a working. */
export const workedOut = (
  symbol: string,
  meaning: string,
  value: number | string | null,
  unit: string,
  formula: string,
  source = 'worked out',
): WorkingLine => ({ symbol, meaning, value, unit, formula, source });

/** A number as it stands in a working: six significant digits unless told, no trailing zeros. */
export function figure(value: number, digits = 6): string {
  const rounded = Number(value.toPrecision(digits));
  // The greatest numbers of all would round up to infinity.
  return String(Number.isFinite(rounded) ? rounded : value);
}
