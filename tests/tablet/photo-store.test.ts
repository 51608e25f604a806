import 'fake-indexeddb/auto';
import { createHash } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { CastingDatabase } from '../../src/tablet/storage/database.ts';
import { blobName, PhotoStore } from '../../src/tablet/storage/photo-store.ts';

const bytesOf = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);
const SERVER = 'https://lehrbook.internal:8080';

describe('photos in the tablet’s storage', () => {
  let db: CastingDatabase;
  let store: PhotoStore;
  let count = 0;

  beforeEach(() => {
    count += 1;
    db = new CastingDatabase(`photos${count}`);
    store = new PhotoStore(db);
  });
  afterEach(() => db.close());

  it('are named by the SHA-256 of their bytes, as Node works it out', () => {
    expect(blobName(bytesOf('abc'))).toBe(createHash('sha256').update('abc').digest('hex'));
    // FIPS 180-4, the one-block message sample of NIST.
    expect(blobName(bytesOf('abc'))).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });

  it('are kept once, however often, and what the server has is not forgotten by it', async () => {
    await store.keep([bytesOf('one'), bytesOf('two')]);
    await store.markSent(blobName(bytesOf('one')), SERVER);
    await store.keep([bytesOf('one')]);
    expect((await store.here()).size).toBe(2);
    expect([...(await store.unsentTo(SERVER))]).toEqual([blobName(bytesOf('two'))]);
    expect((await store.unsentTo('https://other.internal')).size).toBe(2);
    await store.unmarkSent();
    expect((await store.unsentTo(SERVER)).size).toBe(2);
  });

  it('arrive in parts that go on from each other, and count only when they are what their name says', async () => {
    const hash = blobName(bytesOf('a photo in parts'));
    await store.append(hash, 0, bytesOf('a photo '));
    await store.append(hash, 20, bytesOf('from nowhere'));
    await store.append(hash, 0, bytesOf('a photo '));
    expect([await store.arrived(hash), (await store.here()).has(hash)]).toEqual([8, false]);
    await store.append(hash, 8, bytesOf('in parts'));
    expect(await store.finish(hash, SERVER)).toBe(true);
    expect(new TextDecoder().decode((await store.read(hash))!)).toBe('a photo in parts');
    expect((await store.unsentTo(SERVER)).size).toBe(0);
    await store.append('f'.repeat(64), 0, bytesOf('something else'));
    expect(await store.finish('f'.repeat(64), SERVER)).toBe(false);
    expect([await store.arrived('f'.repeat(64)), (await store.here()).size]).toEqual([0, 1]);
  });
});
