import { sql } from 'kysely';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { batchText, linesOf, zipped } from './batches.ts';
import { idOf, TestChain } from './chains.ts';
import { engines } from './engines.ts';
import { Served } from './served.ts';

describe('a server whose disk is full', () => {
  const [sqlite] = engines();
  let served: Served;
  beforeAll(async () => {
    served = await Served.on(sqlite!);
  });
  afterAll(async () => {
    await served?.close();
    await sqlite!.stop();
  });

  it('refuses a push whole, keeps what it had, and takes the same again when there is room', async () => {
    const casting = idOf('casting');
    const chain = new TestChain(casting, 'tablet');
    const headers = await served.joined(casting, chain.device);
    const push = (links = chain.links) =>
      served.app.inject({
        method: 'POST',
        url: '/sync/entries',
        headers: { ...headers, 'content-type': 'application/gzip' },
        payload: zipped(batchText(links)),
      });
    const kept = async () => linesOf((await served.app.inject({ url: '/sync/entries', headers })).rawPayload);
    const first = chain.grow(10);
    expect((await push()).statusCode).toBe(200);
    // SQLite's own limit answers as a full disk does: SQLITE_FULL. It never goes below what is used.
    await sql`pragma max_page_count = 1`.execute(served.database.db);
    chain.grow(3000);
    const refused = await push();
    expect([refused.statusCode, refused.json().error.code]).toEqual([507, 'store-full']);
    expect(await kept()).toEqual(first.map((l) => l.text));
    await sql`pragma max_page_count = 1000000`.execute(served.database.db);
    expect((await push()).json()).toEqual({ added: 3000 });
    expect(await kept()).toEqual(chain.links.map((l) => l.text));
  });
});
