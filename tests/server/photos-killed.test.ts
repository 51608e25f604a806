import { createHash } from 'node:crypto';
import { request } from 'node:http';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { randomOf } from '../../shared/practice/random.ts';
import { carryPhotos, type PhotoPort, type PhotoShelf } from '../../shared/sync/carry-photos.ts';
import { join, makeCode } from '../../src/server/access.ts';
import { openDatabase } from '../../src/server/database/open-database.ts';
import { photoPort } from '../../src/tablet/sync/photo-port.ts';
import { idOf } from './chains.ts';
import { engines, settingsOf } from './engines.ts';
import { TestServer } from './test-server.ts';

const casting = idOf('casting');
const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

function photo(size: number, seed: string): Uint8Array<ArrayBuffer> {
  const { uniform } = randomOf('photos killed', seed);
  return Uint8Array.from({ length: size }, () => Math.floor(uniform() * 256));
}

/** A tablet's photos in memory. */
function shelfOf(photos: readonly Uint8Array<ArrayBuffer>[]): PhotoShelf & { sent: Set<string> } {
  const blobs = new Map(photos.map((bytes) => [sha256(bytes), bytes]));
  const sent = new Set<string>();
  return {
    sent,
    unsent: async () => [...blobs].filter(([h]) => !sent.has(h)).map(([hash, b]) => ({ hash, bytes: b.length })),
    lacking: async () => [],
    read: async (hash, from, to) => blobs.get(hash)!.slice(from, to),
    markSent: async (hash) => void sent.add(hash),
    arrived: async () => 0,
    append: async () => undefined,
    finish: async () => false,
  };
}

describe.each(engines())('photos on their way to a server that is killed, on $name', (engine) => {
  let server: TestServer;
  let world: Record<string, string>;
  let token: string;
  beforeAll(async () => {
    await engine.start();
    world = await engine.emptyWorld();
    const database = await openDatabase(settingsOf(world));
    const code = await makeCode(database.db, casting, 60, Date.now());
    token = (await join(database.db, { code, casting, device: idOf('tablet') }, Date.now()))!.token;
    await database.close();
    server = await TestServer.start({ world });
  });
  afterAll(async () => {
    await server?.kill();
    await engine.stop();
  });

  const port = (): PhotoPort => photoPort({ address: server.address, token }, new AbortController().signal);

  async function killAndStart(): Promise<void> {
    const { port } = server;
    await server.kill();
    server = await TestServer.start({ world, port });
  }

  /** Sends the head of a part and half of its bytes, and no more. */
  const halfOfPart = (hash: string, size: number, start: number, part: Uint8Array): Promise<void> =>
    new Promise((resolve) => {
      const sending = request(`${server.address}/sync/blobs/${hash}`, {
        method: 'PUT',
        headers: {
          authorization: `Bearer ${token}`,
          'content-type': 'application/octet-stream',
          'content-range': `bytes ${start}-${start + part.length - 1}/${size}`,
          'content-length': part.length,
        },
      });
      // It ends with the server.
      sending.on('error', () => undefined);
      sending.write(part.subarray(0, part.length / 2), () => resolve());
    });

  it('keeps the parts that it acknowledged, nothing of one that broke off, and the carrier goes on from there', async () => {
    const bytes = photo(300_000, 'half');
    const hash = sha256(bytes);
    expect(await port().put(hash, bytes.length, 0, bytes.slice(0, 100_000))).toEqual({
      here: 100_000,
      complete: false,
    });
    await halfOfPart(hash, bytes.length, 100_000, bytes.slice(100_000, 200_000));
    await killAndStart();
    expect(await port().state(hash)).toEqual({ here: 100_000, complete: false });
    const starts: number[] = [];
    const watched: PhotoPort = {
      ...port(),
      put: (name, size, start, part) => {
        starts.push(start);
        return port().put(name, size, start, part);
      },
    };
    const shelf = shelfOf([bytes]);
    expect(await carryPhotos(watched, shelf, { partBytes: 100_000 })).toMatchObject({ sent: 1, broken: false });
    expect(starts).toEqual([100_000, 200_000]);
    expect(sha256((await port().get(hash, 0, bytes.length))!)).toBe(hash);
  });

  it('has every photo whole in the end, however often it is killed while a part is on its way', async () => {
    const photos = [1, 2, 3].map((n) => photo(40_000 * n, `often ${n}`));
    const shelf = shelfOf(photos);
    let puts = 0;
    let kills = 0;
    let broken = 0;
    const killing: PhotoPort = {
      state: (hash) => port().state(hash),
      get: (hash, from, to) => port().get(hash, from, to),
      put: async (...part) => {
        puts += 1;
        const sending = port().put(...part);
        if (puts % 4 !== 2) return sending;
        kills += 1;
        const [sent] = await Promise.allSettled([sending, killAndStart()]);
        if (sent.status === 'rejected') throw sent.reason;
        return sent.value;
      },
    };
    for (let pass = 0; pass < 30 && shelf.sent.size < photos.length; pass++)
      broken += (await carryPhotos(killing, shelf, { partBytes: 20_000 })).broken ? 1 : 0;
    expect([shelf.sent.size, kills >= 3, broken >= 1]).toEqual([photos.length, true, true]);
    for (const bytes of photos) {
      const hash = sha256(bytes);
      expect(await port().state(hash)).toEqual({ here: bytes.length, complete: true });
      expect(sha256((await port().get(hash, 0, bytes.length))!)).toBe(hash);
    }
  });
});
