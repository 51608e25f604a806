import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Calculation, runCalculation } from '../../shared/calculations/calculation.ts';

/** One published value: `tolerance` gives for each expected key how far the result may lie off. */
export interface OutsideCheck {
  id: string;
  inputs: unknown;
  expected: Record<string, number>;
  tolerance: Record<string, { abs?: number; rel?: number }>;
  source: string;
}

/** The contents of a file in the folder of published values. */
export function publishedData<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(`data/${name}.json`, import.meta.url), 'utf8')) as T;
}

/** Result of a calculation that must not refuse; also proves that it fits the output schema. */
export function resultOf<I, O>(calculation: Calculation<I, O>, input: unknown): O {
  const outcome = runCalculation(calculation, input);
  if ('error' in outcome) throw new Error(`${calculation.name} refused: ${JSON.stringify(outcome.error)}`);
  const parsed = calculation.output.safeParse(outcome.result);
  expect(parsed.error).toBeUndefined();
  return outcome.result;
}

/** The refusal of a calculation that must refuse. */
export function errorOf<I, O>(calculation: Calculation<I, O>, input: unknown): { path: string; message: string } {
  const outcome = runCalculation(calculation, input);
  if ('result' in outcome) throw new Error(`${calculation.name} did not refuse ${JSON.stringify(input)}`);
  return outcome.error;
}

/** One test a published value of the file named after the calculation, titled by its id and source. */
export function describeOutsideChecks<I, O>(calculation: Calculation<I, O>): void {
  const checks = publishedData<OutsideCheck[]>(calculation.name);
  describe(`${calculation.name} gives the published values`, () => {
    it.each(checks.map((check) => [check.id, check.source, check] as const))('%s (%s)', (_id, _source, check) => {
      const result = resultOf(calculation, check.inputs) as Record<string, unknown>;
      for (const [key, expected] of Object.entries(check.expected)) {
        const { abs = 0, rel = 0 } = check.tolerance[key] ?? {};
        const off = Math.abs((result[key] as number) - expected);
        expect(off, `${key}: ${result[key]} against ${expected}`).toBeLessThanOrEqual(abs + rel * Math.abs(expected));
      }
    });
  });
}
