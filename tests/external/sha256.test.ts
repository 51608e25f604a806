import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { asciiSha256 } from '../../shared/logbook/ascii-sha256.ts';
import { sha256Hex } from '../../shared/logbook/canonical.ts';

const byNode = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex');

/** NIST, Cryptographic Standards and Guidelines, examples with intermediate values: SHA256.pdf (one and two blocks); FIPS 180-2, B.3 (a million letters). */
it.each([
  ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  [
    'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  ],
  ['a'.repeat(1_000_000), 'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0'],
])('hashes the examples of NIST as they stand there', (text, hash) => {
  expect(asciiSha256(text)).toBe(hash);
});

it('gives for every length of text what the hash of Node gives (OpenSSL)', () => {
  for (let length = 0; length <= 260; length++) {
    const text = Array.from({ length }, (_, i) => String.fromCharCode((i * 37 + length) % 128)).join('');
    expect(asciiSha256(text)).toBe(byNode(text));
  }
});

it('leaves to the library what is not ASCII, wherever it stands, and both give the same', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 300 }), fc.string({ unit: 'grapheme', maxLength: 300 }), (plain, any) => {
      const isAscii = Array.from(any).every((c) => c.codePointAt(0)! < 128);
      expect(asciiSha256(plain)).toBe(byNode(plain));
      expect(asciiSha256(plain + any)).toBe(isAscii ? byNode(plain + any) : null);
      expect(sha256Hex(plain + any + plain)).toBe(byNode(plain + any + plain));
    }),
    { seed: 256, numRuns: 500 },
  );
});
