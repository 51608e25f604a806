import { describe, it } from 'vitest';
import { calculations } from '../../shared/calculations/registry.ts';
import { publishedChecks } from '../../src/cli/published-checks.ts';
import { expectCheck, type OutsideCheck } from './outside-checks.ts';

const isPlain = (check: Partial<OutsideCheck>): boolean =>
  check.expected !== undefined && Object.values(check.expected).every((value) => typeof value === 'number');

/** Calculation, check: all whose expected values are plain numbers. The tests of each calculation look closer. */
const plain = calculations.flatMap((calculation) =>
  (publishedChecks(calculation.name) as OutsideCheck[])
    .filter(isPlain)
    .map((check) => [calculation.name, check.id, calculation, check] as const),
);

describe('published values that docs/method.md counts', () => {
  it.each(plain)('%s meets %s', (_name, _id, calculation, check) => expectCheck(calculation, check));
});
