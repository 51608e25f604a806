import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson, isCanonical } from '../../shared/logbook/canonical.ts';
import { type Entry, entrySchema, isPlainlySound } from '../../shared/logbook/entry.ts';

const SEED = 20260311;
const lines = readFileSync(new URL('../fixtures/golden-entries.ndjson', import.meta.url), 'utf8')
  .trim()
  .split('\n');
const golden = lines.map((line) => JSON.parse(line) as Entry);

/** What may stand in the place of any part of an entry. */
const odd = fc.oneof(
  fc.constantFrom(null, -1, 0, 0.5, 2 ** 53, '', 'a'.repeat(32), 'A'.repeat(32), 'a'.repeat(64), [], {}, [1, 2, 3]),
  fc.constantFrom<unknown>('2026-03-01T06:00:00Z', '2026-03-01 06:00', `${'a'.repeat(32)}\n`, 'x'.repeat(41)),
  fc.jsonValue(),
);

describe('the fast check of an envelope', () => {
  it('passes every golden entry', () => {
    expect(golden.filter((entry) => !isPlainlySound(entry))).toEqual([]);
  });

  it('passes nothing that the schema refuses, and changes nothing', () => {
    const paths = fc.constantFrom(
      ...['format', 'casting', 'device', 'seq', 'prev', 'seen', 'clock', 'observedAt', 'recordedAt', 'by', 'kind'],
      ...['body', 'signature', 'more', '__proto__'],
    );
    let passed = 0;
    fc.assert(
      fc.property(fc.constantFrom(...golden), paths, odd, fc.boolean(), (entry, key, value, isLeftOut) => {
        const changed: Record<string, unknown> = JSON.parse(JSON.stringify(entry));
        if (isLeftOut) delete changed[key];
        else Object.defineProperty(changed, key, { value, enumerable: true, configurable: true, writable: true });
        if (!isPlainlySound(changed)) return;
        passed += 1;
        expect(entrySchema.safeParse(changed)).toEqual({ success: true, data: changed });
      }),
      { seed: SEED, numRuns: 5_000 },
    );
    expect(passed).toBeGreaterThan(100);
  });

  it('looks into heads, clocks and signatures', () => {
    const signed = golden.find((entry) => entry.signature)!;
    const wrong: unknown[] = [
      { ...signed, seen: { ['b'.repeat(32)]: [0, 'a'.repeat(64)] } },
      { ...signed, seen: { ['b'.repeat(32)]: [1, 'a'.repeat(64), 1] } },
      { ...signed, seen: { short: [1, 'a'.repeat(64)] } },
      { ...signed, clock: [1, -1] },
      { ...signed, signature: { ...signed.signature!, more: 1 } },
      { ...signed, signature: { ...signed.signature!, value: 'a'.repeat(127) } },
    ];
    for (const value of wrong)
      expect([isPlainlySound(value), entrySchema.safeParse(value).success]).toEqual([false, false]);
  });
});

/** RFC 8785 as the library writes it; false where it cannot. */
function isCanonicalBySlowWay(text: string): boolean {
  try {
    return canonicalJson(JSON.parse(text)) === text;
  } catch {
    return false;
  }
}

function isCanonicalByOurs(text: string): boolean {
  try {
    return isCanonical(JSON.parse(text), text);
  } catch {
    return false;
  }
}

describe('the fast check of canonical text', () => {
  it('says what writing it anew says, of texts as they are and as others may write them', () => {
    const texts = fc.oneof(
      fc.json(),
      fc.jsonValue().map((value) => JSON.stringify(value)),
      fc.jsonValue().map(canonicalJson),
      fc.jsonValue().map((value) => JSON.stringify(value, null, 1)),
    );
    fc.assert(
      fc.property(texts, (text) => {
        expect(isCanonicalByOurs(text)).toBe(isCanonicalBySlowWay(text));
      }),
      { seed: SEED, numRuns: 2_000 },
    );
  });

  it.each([
    '{"a":1,"a":1}',
    '{"b":1,"a":2}',
    '{"10":1,"9":2}',
    '{"9":1,"10":2}',
    '{"a":{"d":1,"c":1}}',
    '[{"b":1,"a":1}]',
    '"\\ud800"',
    '{"\\ud83d":1}',
    '"\\u00e9"',
    '1.0',
    '-0',
    '1e21',
    '1E400',
    '{"__proto__":1}',
    '{"":1,"a":2}',
    '{"a":2,"":1}',
    '{"a":1 }',
  ])('agrees about %s', (text) => {
    expect(isCanonicalByOurs(text)).toBe(isCanonicalBySlowWay(text));
  });
});
