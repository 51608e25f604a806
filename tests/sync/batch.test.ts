import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson, sha256Hex } from '../../shared/logbook/canonical.ts';
import { type Entry, FORMAT, readEntry } from '../../shared/logbook/entry.ts';
import { readBatch, writeBatch } from '../../shared/sync/batch.ts';
import type { StoredEntry } from '../../shared/sync/port.ts';
import { fullLine, shortLine } from '../../shared/sync/short-line.ts';

const casting = 'c'.repeat(32);
const [one, two] = ['1'.repeat(32), '2'.repeat(32)];
const MANY = 100;

function entryAfter(before: StoredEntry | null, device: string, change: Partial<Entry> = {}): StoredEntry {
  const entry: Entry = {
    format: FORMAT,
    casting,
    device,
    seq: (before?.seq ?? 0) + 1,
    prev: before?.hash ?? null,
    seen: {},
    clock: [1, 0],
    observedAt: '2026-03-01T08:00:00Z',
    recordedAt: '2026-03-01T08:00:00Z',
    by: 'b'.repeat(32),
    kind: 'note',
    body: { text: 'Turned the table by hand' },
    ...change,
  };
  const text = canonicalJson(entry);
  return { device, seq: entry.seq, prev: entry.prev, hash: sha256Hex(text), text };
}

function chainOf(device: string, length: number, after: StoredEntry | null = null, text = 'Turned'): StoredEntry[] {
  const links: StoredEntry[] = [];
  for (let n = 0; n < length; n++)
    links.push(entryAfter(links.at(-1) ?? after, device, { body: { text: `${text} ${n}` } }));
  return links;
}

const read = (text: string, most = MANY) => readBatch(text, casting, most, readEntry);
const entriesOf = (result: ReturnType<typeof read>) => ('code' in result ? result : result.entries);

describe('a batch', () => {
  it('gives back its entries byte for byte, in their order, whatever chains are mixed in it', () => {
    const [a, b] = [chainOf(one, 6), chainOf(two, 6)];
    const fork = chainOf(one, 3, a[2], 'On the copy');
    const mixed = [a[0]!, a[1]!, b[0]!, a[2]!, fork[0]!, a[3]!, fork[1]!, b[1]!, fork[2]!, a[4]!, b[2]!];
    expect(read(writeBatch(mixed))).toEqual({ entries: mixed, faults: [] });
    expect(entriesOf(read(writeBatch([])))).toEqual([]);
    expect(entriesOf(read(writeBatch(a.slice(3))))).toEqual(a.slice(3));
  });

  it('leaves every hash off the wire that the receiver can work out', () => {
    const chain = chainOf(one, 20);
    const text = writeBatch(chain.slice(2));
    expect(text.match(/[0-9a-f]{64}/g)).toEqual([chain.at(-1)!.hash, chain[1]!.hash]);
  });

  it('is read the same with every hash on the wire', () => {
    const chain = chainOf(one, 4);
    const [header] = writeBatch(chain).split('\n');
    expect(entriesOf(read([header, ...chain.map((e) => e.text), ''].join('\n')))).toEqual(chain);
  });

  it('names an entry that was changed on the way, and keeps the other chains', () => {
    const [a, b] = [chainOf(one, 4), chainOf(two, 4)];
    const text = writeBatch([...a, ...b]).replace('Turned 2', 'Burned 2');
    expect(read(text)).toEqual({ entries: b, faults: [{ code: 'wrong-hash', details: {}, device: one }] });
  });

  it('names an entry that is missing, doubled in another form, or more than the heads say', () => {
    const a = chainOf(one, 4);
    const lines = writeBatch(a).split('\n');
    const without = [lines[0]!.replace('"entries":4', '"entries":3'), ...lines.filter((_, i) => i !== 0 && i !== 2)];
    expect(read(without.join('\n'))).toMatchObject({ entries: [], faults: [{ code: 'wrong-hash', device: one }] });
    const further = writeBatch(a).replace(/"heads":\{[^}]*\}/, `"heads":{"${one}":[[3,"${a[2]!.hash}"]]}`);
    expect(read(further)).toMatchObject({ entries: [], faults: [{ code: 'wrong-hash', device: one }] });
  });

  it('tells by line what is not canonical, of another casting, or hangs in the air', () => {
    const faultsOf = (result: ReturnType<typeof read>) =>
      'code' in result ? [] : result.faults.map((f) => [f.code, f.details.line, f.device]);
    const text = writeBatch(chainOf(one, 3));
    expect(faultsOf(read(text.replace('{"body":{"text":"Turned 2"', '{"body": {"text":"Turned 2"')))).toEqual([
      ['refused-entry', 3, one],
      ['wrong-hash', undefined, one],
    ]);
    expect(faultsOf(readBatch(text, 'd'.repeat(32), MANY, readEntry))[0]).toEqual(['other-casting', 1, one]);
    const [header, , ...rest] = text.split('\n');
    expect(faultsOf(read([header!.replace('"entries":3', '"entries":2'), ...rest].join('\n')))[0]).toEqual([
      'bad-batch',
      1,
      one,
    ]);
  });

  it('keeps what a newer build wrote', () => {
    const later = entryAfter(null, one, { kind: 'laser-scan', body: { points: [[1, 2]] } });
    expect(entriesOf(read(writeBatch([later])))).toEqual([later]);
  });

  it.each([
    ['nothing', ''],
    ['no last line break', writeBatch(chainOf(one, 2)).slice(0, -1)],
    ['a header that is none', '{"says":"hello"}\n'],
    ['a header with a key too many', writeBatch([]).replace('{', '{"also":1,')],
    ['fewer lines than it says', writeBatch(chainOf(one, 2)).split('\n').slice(0, 2).concat('').join('\n')],
    ['a batch cut anywhere', writeBatch(chainOf(one, 2)).slice(0, -40)],
  ])('is refused as a whole: %s', (_name, text) => {
    expect(read(text)).toMatchObject({ code: 'bad-batch' });
  });

  it('is taken up to the limit of entries, and refused one above it', () => {
    const text = writeBatch(chainOf(one, 3));
    expect(entriesOf(read(text, 3))).toHaveLength(3);
    expect(read(text, 2)).toEqual({ code: 'batch-too-large', details: { most: 2 } });
  });
});

describe('an entry without what follows from the one before it', () => {
  /** Texts that look like parts of an envelope, which nobody must be able to fool it with. */
  const traps = fc.oneof(
    fc.string({ unit: 'grapheme' }),
    fc.constantFrom(
      '","prev":"',
      ',"recordedAt":"',
      `","prev":"${'a'.repeat(64)}","recordedAt":"`,
      '\\',
      '"',
      ',"device":"',
    ),
  );
  const bodies = fc.dictionary(
    fc.oneof(traps, fc.constantFrom('prev', 'recordedAt', 'device', 'seq')),
    fc.oneof(traps, fc.integer(), fc.record({ prev: traps, recordedAt: traps })),
  );

  it('comes back byte for byte, whatever its body and kind hold', () => {
    const kinds = traps.map((t) => `k${t}`.slice(0, 40).normalize('NFC'));
    fc.assert(
      fc.property(bodies, kinds, fc.boolean(), (body, kind, signed) => {
        const before = entryAfter(null, one);
        const clean = JSON.parse(canonicalJson(body).normalize('NFC')) as Record<string, unknown>;
        const signature = { key: '04'.padEnd(130, 'a'), value: 'b'.repeat(128) };
        const entry = entryAfter(before, one, { body: clean, kind, ...(signed && { signature }) });
        const short = shortLine(entry.text, before);
        expect(short).toHaveLength(entry.text.length - 74 - ',"seq":2'.length);
        expect(fullLine(short, (device) => (device === one ? before : undefined))).toBe(entry.text);
        expect(fullLine(entry.text, () => ({ seq: 7, hash: 'f'.repeat(64) }))).toBe(entry.text);
      }),
      { seed: 6, numRuns: 500 },
    );
  });
});
