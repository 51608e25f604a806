import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { sha256Hex } from '../../shared/logbook/canonical.ts';

/** Half of a character: UTF-8 has none, and writes U+FFFD (Encoding Standard, UTF-8 encoder). */
const lone = fc.constantFrom('\ud83d', '\udd25');

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
  expect(sha256Hex(text)).toBe(hash);
});

it('gives for every length of text what the hash of Node gives (OpenSSL)', () => {
  for (let length = 0; length <= 260; length++) {
    const text = Array.from({ length }, (_, i) => String.fromCharCode((i * 37 + length) % 128)).join('');
    for (const any of [text, `${text.slice(1)}°`]) expect(sha256Hex(any)).toBe(byNode(any));
  }
});

it('gives what the hash of Node gives, whatever the text holds and wherever it stands', () => {
  const units = fc.string({
    unit: fc.oneof(fc.string({ unit: 'grapheme', minLength: 1, maxLength: 1 }), lone),
    maxLength: 90,
  });
  fc.assert(
    fc.property(fc.string({ maxLength: 300 }), units, (plain, any) => {
      for (const text of [plain, any, plain + any, plain + any + plain]) expect(sha256Hex(text)).toBe(byNode(text));
    }),
    { seed: 256, numRuns: 500 },
  );
});
