import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { entryHash } from '../../shared/calculations/entry-hash.ts';
import texts from './data/entry-hash.json';
import numbers from './data/entry-hash-numbers.json';
import { errorOf, resultOf, workingOf } from './outside-checks.ts';

const hash = (entry: unknown): string => resultOf(entryHash, { entry }).sha256;
const sha256 = (text: string | Buffer): string => createHash('sha256').update(text).digest('hex');
const canonical = (entry: unknown): unknown =>
  workingOf(entryHash, { entry }).find((line) => line.symbol === 'text')!.value;

/** A double from its sixteen hex digits. */
const double = (hex: string): number => Buffer.from(hex, 'hex').readDoubleBE();

/** Canonical JSON written the long way round, keys sorted by UTF-16 units. */
function byHand(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(byHand).join(',')}]`;
  if (value !== null && typeof value === 'object') {
    const keys = Object.keys(value).sort();
    return `{${keys.map((k) => `${JSON.stringify(k)}:${byHand((value as Record<string, unknown>)[k])}`).join(',')}}`;
  }
  return JSON.stringify(Object.is(value, -0) ? 0 : value);
}

describe('entry-hash', () => {
  test.each(texts)('$id: $source', (check) => {
    const entry = JSON.parse(check.text);
    expect(hash(entry)).toBe(check.sha256);
    expect(hash(entry)).toBe(sha256(Buffer.from(check.canonical_hex, 'hex')));
  });

  test.each(numbers)('$id is written $json: $source', (check) => {
    expect(canonical(double(check.ieee754_hex))).toBe(check.json);
    expect(hash(double(check.ieee754_hex))).toBe(sha256(check.json));
  });

  test('the empty texts of JSON (FIPS 180-4 by an independent library, node:crypto)', () => {
    expect(hash(null)).toBe(sha256('null'));
    expect(hash({})).toBe(sha256('{}'));
    expect(hash('')).toBe(sha256('""'));
    expect(hash('é')).toBe(sha256('"é"'));
  });

  test('refuses what JSON cannot hold', () => {
    const message =
      'has no canonical form: a number overflows, a text holds half a surrogate pair, or it is nested too deeply';
    expect(errorOf(entryHash, { entry: JSON.parse('{"a":[1e400]}') })).toEqual({ path: 'entry', message });
    expect(errorOf(entryHash, { entry: { text: '\ud83d' } })).toEqual({ path: 'entry', message });
    expect(errorOf(entryHash, { entry: { '\ude02': 1 } })).toEqual({ path: 'entry', message });
    const deep = JSON.parse(`${'['.repeat(50_000)}${']'.repeat(50_000)}`);
    expect(errorOf(entryHash, { entry: deep })).toEqual({ path: 'entry', message });
    expect(errorOf(entryHash, {})).toEqual({ path: 'entry', message: 'is missing' });
    expect(errorOf(entryHash, { entry: 1, other: 2 }).message).toBe('has unknown keys: other');
  });

  test('is the hash of the canonical text, whatever the order of the keys; any change changes it', () => {
    fc.assert(
      fc.property(fc.jsonValue({ stringUnit: 'binary' }), (value) => {
        expect(hash(value)).toBe(sha256(byHand(value)));
        expect(hash(JSON.parse(JSON.stringify(value)))).toBe(hash(value));
        expect(hash([value])).not.toBe(hash(value));
      }),
      { seed: 1, numRuns: 300 },
    );
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (object) => {
        expect(hash(Object.fromEntries(Object.entries(object).reverse()))).toBe(hash(object));
      }),
      { seed: 1, numRuns: 200 },
    );
  });
});
