import { describe, expect, it } from 'vitest';
import { calculations } from '../../shared/calculations/registry.ts';
import { publishedChecks } from '../../src/cli/published-checks.ts';
import { type OutsideCheck, resultOf } from './outside-checks.ts';

const isPlain = (check: Partial<OutsideCheck>): boolean =>
  check.expected !== undefined && Object.values(check.expected).every((value) => typeof value === 'number');

/** Calculation, check: all whose expected values are plain numbers. The tests of each calculation look closer. */
const plain = calculations.flatMap((calculation) =>
  (publishedChecks(calculation.name) as OutsideCheck[])
    .filter(isPlain)
    .map((check) => [calculation.name, check.id, calculation, check] as const),
);

describe('published values that docs/method.md counts', () => {
  it.each(plain)('%s meets %s', (_name, _id, calculation, check) => {
    const result = resultOf(calculation, check.inputs) as Record<string, number>;
    for (const [key, expected] of Object.entries(check.expected)) {
      const { abs = 0, rel = 0 } = check.tolerance[key] ?? {};
      const off = Math.abs((result[key] as number) - expected);
      expect(off, `${key}: ${result[key]} against ${expected}`).toBeLessThanOrEqual(abs + rel * Math.abs(expected));
    }
  });
});
