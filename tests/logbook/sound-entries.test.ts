import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as z from 'zod/mini';
import { canonicalJson, canonicalOfParsed, isCanonical } from '../../shared/logbook/canonical.ts';
import { type Entry, entrySchema, signedPart, signedText } from '../../shared/logbook/entry.ts';
import { isKind, type Kind, kinds } from '../../shared/logbook/kinds.ts';
import { plainlyFits } from '../../shared/logbook/plainly-fits.ts';

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

/** A value with one part of it, at any depth, changed or left out. */
function changedAt(value: unknown, place: number, part: unknown, isLeftOut: boolean): unknown {
  const changed = JSON.parse(JSON.stringify(value)) as unknown;
  const places: [holder: Record<string, unknown>, key: string][] = [];
  const walk = (at: unknown) => {
    if (typeof at !== 'object' || at === null) return;
    for (const key of [...Object.keys(at), 'more', '__proto__']) {
      places.push([at as Record<string, unknown>, key]);
      if (Object.hasOwn(at, key)) walk((at as Record<string, unknown>)[key]);
    }
  };
  walk(changed);
  const [holder, key] = places[place % places.length]!;
  if (isLeftOut && !Array.isArray(holder)) delete holder[key];
  else Object.defineProperty(holder, key, { value: part, enumerable: true, configurable: true, writable: true });
  return changed;
}

/** How often the fast check passed a changed value; each time the schema must give it back as it is. */
function passedBy(schema: z.ZodMiniType, values: readonly unknown[], numRuns: number): number {
  const fits = plainlyFits(schema);
  let passed = 0;
  fc.assert(
    fc.property(fc.constantFrom(...values), fc.nat(10_000), odd, fc.boolean(), (value, place, part, isLeftOut) => {
      const changed = changedAt(value, place, part, isLeftOut);
      if (!fits(changed)) return;
      passed += 1;
      const { success, data } = schema.safeParse(changed);
      expect([success, canonicalJson(data)]).toEqual([true, canonicalJson(changed)]);
    }),
    { seed: SEED, numRuns },
  );
  return passed;
}

describe('the fast check of a schema', () => {
  it('passes every golden entry, and its body', () => {
    expect(golden.filter((entry) => !plainlyFits(entrySchema)(entry))).toEqual([]);
    const bodies = golden.filter(({ kind }) => isKind(kind));
    const slow = bodies.filter(({ kind, body }) => !plainlyFits(kinds[kind as Kind])(body)).map((e) => e.kind);
    expect(slow).toEqual([]);
  });

  it('passes no envelope that the schema refuses or would change', () => {
    expect(passedBy(entrySchema, golden, 4_000)).toBeGreaterThan(100);
  });

  it.each(Object.keys(kinds) as Kind[])('passes no body of a %s that the schema refuses or would change', (kind) => {
    const bodies = golden.filter((entry) => entry.kind === kind).map((entry) => entry.body);
    expect(bodies).not.toEqual([]);
    passedBy(kinds[kind], bodies, 300);
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
    const fits = plainlyFits(entrySchema);
    for (const value of wrong) expect([fits(value), entrySchema.safeParse(value).success]).toEqual([false, false]);
  });

  it('leaves what it does not know to the schema', () => {
    const unknown = [z.email(), z.union([z.string(), z.number()]), z.number().check(z.multipleOf(2)), z.date()];
    expect(unknown.map((schema) => plainlyFits(schema)('a@example.org'))).toEqual([false, false, false, false]);
    expect(plainlyFits(z.number().check(z.multipleOf(2)))(4)).toBe(false);
  });
});

describe('the part of a text that a signature covers', () => {
  it('is what writing the entry anew without its signature gives', () => {
    const signed = golden.filter((entry) => entry.signature);
    expect(signed.length).toBeGreaterThan(5);
    for (const entry of signed) expect(signedPart(canonicalJson(entry))).toBe(signedText(entry));
  });

  it('is so whatever stands in the body, the mark of a signature too', () => {
    const signed = golden.find((entry) => entry.signature)!;
    const text = fc.oneof(fc.string(), fc.constantFrom(',"signature":{', '"}},"signature":{"key":"', '}'));
    fc.assert(
      fc.property(fc.dictionary(text, fc.oneof(text, fc.dictionary(text, text))), (body) => {
        const entry: Entry = { ...signed, body: { ...body, signature: { key: 'a' } } };
        expect(signedPart(canonicalJson(entry))).toBe(signedText(entry));
      }),
      { seed: SEED, numRuns: 500 },
    );
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

describe('the fast writing of canonical text', () => {
  it('writes what the library writes, of every value that was parsed', () => {
    const places = fc.dictionary(fc.oneof(fc.nat(30).map(String), fc.string()), fc.jsonValue());
    fc.assert(
      fc.property(fc.oneof(fc.jsonValue(), places, fc.array(places)), (value) => {
        const parsed: unknown = JSON.parse(JSON.stringify(value));
        expect(canonicalOfParsed(parsed)).toBe(canonicalJson(parsed));
      }),
      { seed: SEED, numRuns: 2_000 },
    );
  });

  it('refuses half a character, as the library does', () => {
    for (const value of ['\ud83d', { '\ud83d': 1 }, { 10: '\udd25', 9: 1 }])
      expect(() => canonicalOfParsed(value)).toThrow();
  });
});

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
