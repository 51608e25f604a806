import { expect } from 'vitest';
import { type Calculation, runCalculation, type WorkingLine } from '../../shared/calculations/calculation.ts';

/** How far a figure may lie from the published one: `abs` in its unit, `rel` as a fraction. */
export interface Tolerance {
  abs?: number;
  rel?: number;
}

/** One value from outside, with where it was published. */
export interface Check {
  id: string;
  inputs: Record<string, unknown>;
  expected: Record<string, unknown>;
  tolerance: Record<string, Tolerance>;
  source: string;
}

/** A table of checks as it stands in `data/`. */
export const checksOf = (table: unknown): Check[] => table as Check[];

/** Runs a calculation that must succeed; the result must fit the output schema and the working must be complete. */
export function resultOf<I, O>(calculation: Calculation<I, O>, input: unknown): O {
  const outcome = runCalculation(calculation, input);
  if ('error' in outcome)
    throw new Error(`${calculation.name} refused ${outcome.error.path}: ${outcome.error.message}`);
  expect(calculation.output.safeParse(outcome.result).error).toBeUndefined();
  for (const line of outcome.working) expect(line.formula ?? line.source).not.toMatch(/NaN|Infinity|undefined/);
  return outcome.result;
}

/** The refusal that a calculation answers with; fails where it answers with a result. */
export function refusalOf<I, O>(calculation: Calculation<I, O>, input: unknown): { path: string; message: string } {
  const outcome = runCalculation(calculation, input);
  if ('result' in outcome) throw new Error(`${calculation.name} answered ${JSON.stringify(outcome.result)}`);
  return outcome.error;
}

/** The working of an input that must succeed. */
export function workingOf<I, O>(calculation: Calculation<I, O>, input: unknown): WorkingLine[] {
  const outcome = runCalculation(calculation, input);
  if ('error' in outcome) throw new Error(outcome.error.message);
  return outcome.working;
}

/** Compares the keys that a published check names. */
export function expectCheck<I, O>(calculation: Calculation<I, O>, check: Check): void {
  const result = resultOf(calculation, check.inputs) as Record<string, unknown>;
  for (const [key, expected] of Object.entries(check.expected)) {
    if (typeof expected !== 'number') {
      expect(result[key], `${check.id} ${key}`).toEqual(expected);
      continue;
    }
    const { abs = 0, rel = 0 } = check.tolerance[key] ?? {};
    const off = Math.abs((result[key] as number) - expected);
    expect(off, `${check.id} ${key}: ${result[key]} against ${expected}`).toBeLessThanOrEqual(
      abs + rel * Math.abs(expected),
    );
  }
}

/** Expects a figure within a fraction of another. */
export function expectRelative(actual: number, expected: number, fraction: number): void {
  expect(Math.abs(actual - expected), `${actual} against ${expected}`).toBeLessThanOrEqual(
    fraction * Math.abs(expected),
  );
}
