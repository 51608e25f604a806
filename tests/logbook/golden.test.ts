import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkSignature } from '../../shared/logbook/crypto.ts';
import { type Entry, readEntry } from '../../shared/logbook/entry.ts';
import { isKind, kinds, readBody, signedKinds } from '../../shared/logbook/kinds.ts';
import { merkleRoot } from '../../shared/logbook/merkle.ts';
import { nodeVerifier } from '../fixtures/node-crypto.ts';

const bytes = readFileSync(new URL('../fixtures/golden-entries.ndjson', import.meta.url), 'utf8');
const lines = bytes.trim().split('\n');
const entries = lines.map((line) => JSON.parse(line) as Entry);

/** SHA-256 of the first 21 golden lines, written down on the day they were made: they never change. */
const FIRST_LINES = '879d98017a0b5595ed175194fbe6cb0d13bd7bf3b453100c599fa8ce82b00d71';

describe('golden entries', () => {
  it('are the bytes that were written on the first day', () => {
    const first = `${lines.slice(0, 21).join('\n')}\n`;
    expect(createHash('sha256').update(first).digest('hex')).toBe(FIRST_LINES);
  });

  it('hold every kind', () => {
    expect([...new Set(entries.map((e) => e.kind))].sort()).toEqual(Object.keys(kinds).sort());
  });

  it('read as sound envelopes with readable bodies, and hash as any SHA-256 says', () => {
    for (const [i, line] of lines.entries()) {
      const read = readEntry(line, entries[i]!.casting);
      if ('fault' in read) throw new Error(`line ${i + 1}: ${read.fault}`);
      // Node's own SHA-256 (FIPS 180-4), not the one that the log uses.
      expect(read.hash).toBe(createHash('sha256').update(line, 'utf8').digest('hex'));
      expect(isKind(read.entry.kind) && readBody(read.entry.kind, read.entry.body)).not.toBeNull();
    }
  });

  it('form chains: each prev is the hash of the line before', () => {
    entries.forEach((entry, i) => {
      expect(entry.prev).toBe(
        entry.seq === 1
          ? null
          : createHash('sha256')
              .update(lines[i - 1]!, 'utf8')
              .digest('hex'),
      );
    });
  });

  it('carry signatures that verify, and that no changed byte passes', async () => {
    const signed = entries.filter((e) => e.signature);
    expect(new Set(signed.map((e) => e.kind))).toEqual(new Set([...signedKinds].filter((k) => k !== 'plan')));
    for (const entry of signed) {
      expect(await checkSignature(entry, nodeVerifier)).toBe('good');
      expect(await checkSignature({ ...entry, recordedAt: '2026-03-01T06:59:00+00:00' }, nodeVerifier)).toBe('bad');
      expect(await checkSignature({ ...entry, body: { ...entry.body, x: 1 } }, nodeVerifier)).toBe('bad');
    }
  });

  it('release over the RFC 9162 root of the evidence that they list', () => {
    const release = entries.find((e) => e.kind === 'release')!.body as { evidence: string[]; evidenceHash: string };
    const leaf = (hex: string) =>
      createHash('sha256')
        .update(Buffer.concat([Buffer.of(0), Buffer.from(hex, 'hex')]))
        .digest();
    const root = createHash('sha256')
      .update(Buffer.concat([Buffer.of(1), ...release.evidence.map(leaf)]))
      .digest('hex');
    expect([merkleRoot(release.evidence), release.evidenceHash]).toEqual([root, root]);
  });

  it('refuse a line that was changed, reordered or is too large, each by its name', () => {
    const { casting } = entries[0]!;
    expect(readEntry(` ${lines[0]}`, casting)).toEqual({ fault: 'not canonical' });
    expect(readEntry(lines[0]!.replace('"seq":1', '"seq":1.0'), casting)).toEqual({ fault: 'not canonical' });
    expect(readEntry(lines[0]!.replace('Prüfguß', 'Pru\u0308fguß'), casting)).toEqual({ fault: 'not canonical' });
    expect(readEntry(lines[0]!.replace('"nonce":"golden"', '"nonce":"other"'), casting)).toEqual({
      fault: 'wrong genesis',
    });
    expect(readEntry(lines[1]!, '0'.repeat(32))).toEqual({ fault: 'wrong casting' });
    expect(readEntry(`"${'x'.repeat(1_000_001)}"`, casting)).toEqual({ fault: 'too large' });
    expect(readEntry('{"seq":1e999}', casting)).toEqual({ fault: 'not canonical' });
    expect(readEntry('not json', casting)).toEqual({ fault: 'not canonical' });
  });
});
