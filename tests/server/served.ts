import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join as pathOf } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { join, makeCode } from '../../src/server/access.ts';
import { buildServer } from '../../src/server/build-server.ts';
import { type Database, openDatabase } from '../../src/server/database/open-database.ts';
import { settingsOf, type TestEngine } from './engines.ts';

/** A server in this process, on a new database, called without a network. */
export class Served {
  /** What it logged, one line an event. */
  readonly log: string[] = [];
  /** Milliseconds since 1970, as this server reads its clock. */
  now = Date.UTC(2026, 2, 1);

  app!: FastifyInstance;
  /** An app of one page, where the test brings none. */
  private readonly page = mkdtempSync(pathOf(tmpdir(), 'lehrbook-page-'));

  private constructor(readonly database: Database) {
    writeFileSync(pathOf(this.page, 'index.html'), '<title>the app</title>');
  }

  static async on(engine: TestEngine, settings: Record<string, string> = {}, folder?: string): Promise<Served> {
    const wanted = settingsOf(await engine.emptyWorld(), { LOG_LEVEL: 'info', ...settings });
    const served = new Served(await openDatabase(wanted));
    served.app = await buildServer({
      database: served.database,
      settings: wanted,
      folder: folder ?? served.page,
      log: { write: (line) => void served.log.push(line) },
      now: () => served.now,
    });
    return served;
  }

  /** Lets a tablet join, and gives the header that carries its token. */
  async joined(casting: string, device: string): Promise<{ authorization: string }> {
    const code = await makeCode(this.database.db, casting, 60, this.now);
    const joined = await join(this.database.db, { code, casting, device }, this.now);
    return { authorization: `Bearer ${joined!.token}` };
  }

  async close(): Promise<void> {
    await this.app.close();
    await this.database.close();
    rmSync(this.page, { recursive: true, force: true });
  }
}
