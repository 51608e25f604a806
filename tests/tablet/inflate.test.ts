import { constants, gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gunzip } from '../../src/tablet/storage/inflate.ts';

/** Zipped by the zlib of Node, which writes all three kinds of block of RFC 1951. */
const ways = [
  { level: 0 },
  { level: 1 },
  { level: 6 },
  { level: 9 },
  { level: 6, strategy: constants.Z_FIXED },
  { level: 6, strategy: constants.Z_HUFFMAN_ONLY },
  { level: 6, strategy: constants.Z_RLE },
];

/** Texts that repeat themselves, near and far, and bytes that do not. */
const content = fc.oneof(
  fc.uint8Array({ maxLength: 3_000 }),
  fc.array(fc.constantFrom('{"seq":', '"prev"', 'a', '0', ' °C', ',', '}\n'), { maxLength: 3_000 }).map(utf8),
  fc.tuple(fc.uint8Array({ maxLength: 300 }), fc.nat(200)).map(([part, times]) => repeated(part, times)),
);

function utf8(parts: readonly string[]): Uint8Array {
  return new TextEncoder().encode(parts.join(''));
}

function repeated(part: Uint8Array, times: number): Uint8Array {
  return Uint8Array.from({ length: part.length * times }, (_, i) => part[i % part.length]!);
}

describe('unzipping in one go', () => {
  it('gives what was zipped, whichever kind of block it was zipped into', () => {
    fc.assert(
      fc.property(content, fc.constantFrom(...ways), (bytes, way) => {
        const found = gunzip(new Uint8Array(gzipSync(bytes, way)));
        expect(Buffer.compare(found, bytes)).toBe(0);
      }),
      { seed: 1951, numRuns: 400 },
    );
  });

  it('gives back a text of megabytes', () => {
    const text = Array.from({ length: 60_000 }, (_, i) => `{"seq":${i},"text":"${(i * 7919) % 1000} µm"}`).join('\n');
    expect(new TextDecoder().decode(gunzip(new Uint8Array(gzipSync(text))))).toBe(text);
  });

  it('passes over a name, a comment and further fields in the header (RFC 1952)', () => {
    const plain = gzipSync('content');
    const header = Buffer.from(plain.subarray(0, 10));
    header[3] = 4 | 8 | 16 | 2;
    const further = Buffer.concat([header, Buffer.from([2, 0, 9, 9]), Buffer.from('name\0why\0'), Buffer.from([0, 0])]);
    const found = gunzip(new Uint8Array(Buffer.concat([further, plain.subarray(10)])));
    expect(new TextDecoder().decode(found)).toBe('content');
  });

  it('ends, with an error or with as many bytes as were zipped, whatever is cut off or changed', () => {
    const zipped = gzipSync(JSON.stringify(Array.from({ length: 300 }, (_, i) => ({ i, of: `${i % 7}` }))));
    const whole = gunzip(new Uint8Array(zipped)).length;
    fc.assert(
      fc.property(fc.nat(zipped.length - 9), fc.nat(254), fc.boolean(), (at, by, isCut) => {
        const bytes = new Uint8Array(zipped);
        bytes[at] = (bytes[at]! + 1 + by) % 256;
        const found = lengthOf(isCut ? Uint8Array.from([...bytes.subarray(0, at), ...zipped.subarray(-8)]) : bytes);
        expect([whole, 'refused']).toContain(found);
        if (isCut) expect(found).toBe('refused');
      }),
      { seed: 1952, numRuns: 2_000 },
    );
  });
});

function lengthOf(gz: Uint8Array): number | 'refused' {
  try {
    return gunzip(gz).length;
  } catch (error) {
    expect(error).toBeInstanceOf(Error);
    return 'refused';
  }
}
