import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Calculation, runCalculation, type WorkingLine } from '../../shared/calculations/calculation.ts';

/** How far a figure may lie from the published one: `abs` in its unit, `rel` as a fraction. */
export interface Tolerance {
  abs?: number;
  rel?: number;
}

/** One published value, with where it was published. */
export interface OutsideCheck {
  id: string;
  inputs: unknown;
  /** Any part of the result; numbers below a key meet within the tolerance of that key. */
  expected: Record<string, unknown>;
  tolerance: Record<string, Tolerance>;
  source: string;
}

/** The contents of a file in the folder of published values. */
export function publishedData<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(`data/${name}.json`, import.meta.url), 'utf8')) as T;
}

/** Result of a calculation that must not refuse; it must fit the output schema, and the working must be complete. */
export function resultOf<I, O>(calculation: Calculation<I, O>, input: unknown): O {
  const outcome = runCalculation(calculation, input);
  if ('error' in outcome) throw new Error(`${calculation.name} refused: ${JSON.stringify(outcome.error)}`);
  expect(calculation.output.safeParse(outcome.result).error).toBeUndefined();
  for (const line of outcome.working) expect(line.formula ?? line.source).not.toMatch(/NaN|Infinity|undefined/);
  return outcome.result;
}

/** The working of an input that must not be refused. */
export function workingOf<I, O>(calculation: Calculation<I, O>, input: unknown): WorkingLine[] {
  const outcome = runCalculation(calculation, input);
  if ('error' in outcome) throw new Error(`${calculation.name} refused: ${JSON.stringify(outcome.error)}`);
  return outcome.working;
}

/** The refusal of a calculation that must refuse. */
export function errorOf<I, O>(calculation: Calculation<I, O>, input: unknown): { path: string; message: string } {
  const outcome = runCalculation(calculation, input);
  if ('result' in outcome) throw new Error(`${calculation.name} did not refuse ${JSON.stringify(input)}`);
  return outcome.error;
}

function meets(actual: unknown, expected: unknown, { abs = 0, rel = 0 }: Tolerance, path: string): void {
  if (typeof expected === 'number') {
    expect(actual, path).toBeTypeOf('number');
    const off = Math.abs((actual as number) - expected);
    expect(off, `${path}: ${actual} against ${expected}`).toBeLessThanOrEqual(abs + rel * Math.abs(expected));
  } else if (expected !== null && typeof expected === 'object') {
    if (Array.isArray(expected)) expect((actual as unknown[]).length, path).toBe(expected.length);
    for (const [key, part] of Object.entries(expected))
      meets((actual as Record<string, unknown>)[key], part, { abs, rel }, `${path}.${key}`);
  } else {
    expect(actual, path).toEqual(expected);
  }
}

/** Compares what a published value names; without a tolerance it must meet exactly. */
export function expectCheck<I, O>(calculation: Calculation<I, O>, check: OutsideCheck): void {
  const result = resultOf(calculation, check.inputs) as Record<string, unknown>;
  for (const [key, expected] of Object.entries(check.expected))
    meets(result[key], expected, check.tolerance[key] ?? {}, key);
}

/** One test a published value of the file named after the calculation, titled by its id and source. */
export function describeOutsideChecks<I, O>(calculation: Calculation<I, O>): void {
  const checks = publishedData<OutsideCheck[]>(calculation.name);
  describe(`${calculation.name} gives the published values`, () => {
    it.each(checks.map((check) => [check.id, check.source, check] as const))('%s (%s)', (_id, _source, check) =>
      expectCheck(calculation, check),
    );
  });
}

/** Expects a figure within a fraction of another. */
export function expectRelative(actual: number, expected: number, fraction: number): void {
  expect(Math.abs(actual - expected), `${actual} against ${expected}`).toBeLessThanOrEqual(
    fraction * Math.abs(expected),
  );
}
