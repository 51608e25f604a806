import { sql } from 'kysely';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Database, openDatabase } from '../../src/server/database/open-database.ts';
import { batchText, linesOf, zipped } from './batches.ts';
import { idOf, TestChain } from './chains.ts';
import { engines, settingsOf } from './engines.ts';
import { TestServer } from './test-server.ts';

describe('a server whose PostgreSQL drops its connections', () => {
  const postgres = engines().find((engine) => engine.shared)!;
  let administrator: Database;
  let server: TestServer;
  beforeAll(async () => {
    await postgres.start();
    const world = await postgres.emptyWorld();
    administrator = await openDatabase(settingsOf(world));
    server = await TestServer.start({ world });
  });
  afterAll(async () => {
    await server?.kill();
    await administrator?.close();
    await postgres.stop();
  });

  const dropAll = () =>
    sql`select pg_terminate_backend(pid) from pg_stat_activity where application_name = 'lehrbook' and pid <> pg_backend_pid()`.execute(
      administrator.db,
    );

  it('goes on with new ones, and keeps what it had acknowledged', async () => {
    const casting = idOf('casting');
    const chain = new TestChain(casting, 'tablet');
    const joined = await fetch(`${server.address}/sync/join`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ code: await server.firstCode(), casting, device: chain.device }),
    });
    const authorization = `Bearer ${(await joined.json()).token}`;
    const push = async (): Promise<number> => {
      const answer = await fetch(`${server.address}/sync/entries`, {
        method: 'POST',
        headers: { authorization, 'content-type': 'application/gzip' },
        body: new Uint8Array(zipped(batchText(chain.links))),
      });
      await answer.arrayBuffer();
      return answer.status;
    };
    for (let round = 0; round < 5; round++) {
      chain.grow(10);
      // Some of these meet a connection that has just gone: they fail whole, and the same is sent again.
      const [status] = await Promise.all([push(), dropAll()]);
      expect([200, 500]).toContain(status);
      let again = status;
      for (let attempt = 0; again !== 200 && attempt < 20; attempt++) again = await push();
      expect(again).toBe(200);
    }
    const page = await fetch(`${server.address}/sync/entries`, { headers: { authorization } });
    expect(linesOf(Buffer.from(await page.arrayBuffer()))).toEqual(chain.links.map((l) => l.text));
  });
});
