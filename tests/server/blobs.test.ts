import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { randomOf } from '../../shared/practice/random.ts';
import { addPart, blobBytes, blobState } from '../../src/server/blobs.ts';
import { type Database, openDatabase } from '../../src/server/database/open-database.ts';
import { engines, settingsOf } from './engines.ts';

const casting = 'a'.repeat(32);
const hashOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex');

function photo(size: number, seed: number): Buffer {
  const { uniform } = randomOf('photos', String(seed));
  return Buffer.from(Array.from({ length: size }, () => Math.floor(uniform() * 256)));
}

describe.each(engines())('photos, on $name', (engine) => {
  let database: Database;
  beforeAll(async () => {
    await engine.start();
    database = await openDatabase(settingsOf(await engine.emptyWorld()));
  });
  afterAll(async () => {
    await database?.close();
    await engine.stop();
  });

  const add = (hash: string, start: number, size: number, bytes: Buffer) =>
    addPart(database.db, { casting, hash, start, size }, bytes);
  const read = async (hash: string, from: number, to: number) => {
    const parts: Buffer[] = [];
    for await (const part of blobBytes(database.db, casting, hash, from, to)) parts.push(part);
    return Buffer.concat(parts);
  };

  it('come in parts, and are whole when their hash says so', async () => {
    const bytes = photo(700_000, 1);
    const hash = hashOf(bytes);
    expect(await blobState(database.db, casting, hash)).toBeNull();
    expect(await add(hash, 0, bytes.length, bytes.subarray(0, 300_000))).toMatchObject({
      here: 300_000,
      complete: false,
    });
    expect(await blobState(database.db, casting, hash)).toEqual({ size: 700_000, here: 300_000, complete: false });
    expect(await add(hash, 300_000, bytes.length, bytes.subarray(300_000))).toMatchObject({ complete: true });
    expect(hashOf(await read(hash, 0, bytes.length))).toBe(hash);
    expect(await read(hash, 262_143, 262_146)).toEqual(bytes.subarray(262_143, 262_146));
    expect(await read(hash, 699_999, 700_000)).toEqual(bytes.subarray(699_999));
  });

  it('change nothing when a part comes again, and add only what is new of one that overlaps', async () => {
    const bytes = photo(1000, 2);
    const hash = hashOf(bytes);
    for (const [from, to] of [
      [0, 400],
      [0, 400],
      [100, 300],
      [200, 700],
      [400, 1000],
      [0, 1000],
    ] as const) {
      expect(await add(hash, from, 1000, bytes.subarray(from, to))).not.toHaveProperty('fault');
    }
    expect(await read(hash, 0, 1000)).toEqual(bytes);
  });

  it('say how far they are when a part would leave a gap', async () => {
    const bytes = photo(100, 3);
    await add(hashOf(bytes), 0, 100, bytes.subarray(0, 40));
    expect(await add(hashOf(bytes), 41, 100, bytes.subarray(41))).toEqual({ fault: 'gap', here: 40 });
  });

  it('drop what does not fit its name, and take the right bytes afterwards', async () => {
    const bytes = photo(100, 4);
    const hash = hashOf(bytes);
    expect(await add(hash, 0, 100, photo(100, 5))).toEqual({ fault: 'wrong-hash', here: 0 });
    expect(await blobState(database.db, casting, hash)).toBeNull();
    expect(await add(hash, 0, 100, bytes)).toMatchObject({ complete: true });
  });

  it('keep to the size that was said first', async () => {
    const bytes = photo(100, 6);
    await add(hashOf(bytes), 0, 100, bytes.subarray(0, 10));
    expect(await add(hashOf(bytes), 10, 99, bytes.subarray(10, 99))).toMatchObject({ fault: 'other-size' });
  });

  it('belong to one casting', async () => {
    const bytes = photo(100, 7);
    await add(hashOf(bytes), 0, 100, bytes);
    expect(await blobState(database.db, 'b'.repeat(32), hashOf(bytes))).toBeNull();
  });

  it('come whole from two tablets that send the same at once', async () => {
    const bytes = photo(60_000, 8);
    const hash = hashOf(bytes);
    const send = async () => {
      for (let at = 0; at < bytes.length; at += 7000) await add(hash, at, bytes.length, bytes.subarray(at, at + 7000));
    };
    await Promise.all([send(), send()]);
    expect(await blobState(database.db, casting, hash)).toMatchObject({ complete: true });
    expect(await read(hash, 0, bytes.length)).toEqual(bytes);
  });
});
