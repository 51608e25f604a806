import { describe, expect, it } from 'vitest';
import type { Calculation } from '../../shared/calculations/calculation.ts';
import { publishedData, resultOf } from './outside-checks.ts';

interface NestedCheck {
  id: string;
  inputs: unknown;
  /** Any part of the result; numbers meet within the tolerance of their outermost key. */
  expected: Record<string, unknown>;
  tolerance: Record<string, { abs: number }>;
  source: string;
}

function meets(actual: unknown, expected: unknown, tolerance: number, path: string): void {
  if (typeof expected === 'number') {
    expect(actual, path).toBeTypeOf('number');
    expect(Math.abs((actual as number) - expected), `${path}: ${actual} against ${expected}`).toBeLessThanOrEqual(
      tolerance,
    );
  } else if (expected !== null && typeof expected === 'object') {
    if (Array.isArray(expected)) expect((actual as unknown[]).length, path).toBe(expected.length);
    for (const [key, part] of Object.entries(expected))
      meets((actual as Record<string, unknown>)[key], part, tolerance, `${path}.${key}`);
  } else {
    expect(actual, path).toEqual(expected);
  }
}

/** One test a published value, for results that hold more than plain numbers. */
export function describeNestedChecks<I, O>(calculation: Calculation<I, O>): void {
  const checks = publishedData<NestedCheck[]>(calculation.name);
  describe(`${calculation.name} gives the published values`, () => {
    it.each(checks.map((check) => [check.id, check.source, check] as const))('%s (%s)', (_id, _source, check) => {
      const result = resultOf(calculation, check.inputs) as Record<string, unknown>;
      for (const [key, expected] of Object.entries(check.expected))
        meets(result[key], expected, check.tolerance[key]!.abs, key);
    });
  });
}
