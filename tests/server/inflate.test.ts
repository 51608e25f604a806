import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { inflate } from '../../src/server/inflate.ts';

const MOST = 100_000;

describe('unzipping', () => {
  it('gives back what was zipped, up to the limit', async () => {
    const bytes = Buffer.alloc(MOST, 'round ');
    expect(Buffer.from((await inflate(gzipSync(bytes), MOST)) as Uint8Array)).toEqual(bytes);
  });

  it('stops one byte above the limit', async () => {
    expect(await inflate(gzipSync(Buffer.alloc(MOST + 1)), MOST)).toBe('too-large');
  });

  it('stops a bomb on the way, not after it has filled the memory', async () => {
    // A gzip file may have members one after another (RFC 1952 section 2.2): a thousand of a megabyte each.
    const bomb = Buffer.concat(Array.from({ length: 1000 }, () => member));
    const before = process.memoryUsage().arrayBuffers;
    expect(await inflate(bomb, MOST)).toBe('too-large');
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(20_000_000);
  });
  const member = gzipSync(Buffer.alloc(1_000_000));

  it('finds every place at which it was cut short', async () => {
    const whole = gzipSync('a round of thirty channels, and a second one');
    for (let length = 0; length < whole.length; length++) {
      expect([length, await inflate(whole.subarray(0, length), MOST)]).toEqual([length, 'damaged']);
    }
  });

  it('finds a changed byte of the data by its sum (RFC 1952 section 2.3.1, CRC32)', async () => {
    const whole = gzipSync(Buffer.alloc(1000, 'abcdefg'));
    const changed = Buffer.from(whole);
    changed[changed.length - 8]! ^= 1;
    expect(await inflate(changed, MOST)).toBe('damaged');
  });
});
