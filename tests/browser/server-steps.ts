import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { admissions, makeCode, revoke } from '../../src/server/access.ts';
import { type Database, openDatabase } from '../../src/server/database/open-database.ts';
import { settingsOf } from '../server/engines.ts';
import { TestServer } from './harness.ts';

/** The server’s place in Setup. */
export const SERVER = '/setup?part=tablets&show=server';
/** The state line of the frame. */
export const line = (page: Page) => page.locator('.title-state');

/** Types a code at the server’s place in Setup. */
export async function joinServer(page: Page, code: string): Promise<void> {
  await page.getByLabel('One-time code').fill(code);
  await page.getByRole('button', { name: /^Join (the server|again)$/ }).click();
}

/** What the state line says when nothing waits. */
export const SYNCED = 'Kept here and elsewhere';

/** From the first run into the server's casting. */
export async function joinFromStart(page: Page, code: string, name: string): Promise<void> {
  await page.getByRole('link', { name: 'Join a casting that others have begun' }).click();
  await page.getByLabel('One-time code').fill(code);
  await page.getByRole('button', { name: 'Find the casting' }).click();
  await page.getByRole('heading', { name: 'Compare the fingerprint' }).waitFor();
  await page.getByLabel(/^Name of this tablet/).fill(name);
  await page.getByRole('button', { name: 'All eight are the same: join' }).click();
  await page.getByRole('heading', { name: 'This tablet is not admitted yet' }).waitFor();
}

/** A server over a database that the test reaches too; it can be killed without a word and started again where it was. */
export class KilledServer {
  private readonly world = { DATA_FOLDER: mkdtempSync(join(tmpdir(), 'lehrbook-data-')) };
  private running!: TestServer;
  kills = 0;

  constructor(private readonly settings: Readonly<Record<string, string>> = {}) {}

  async start(port = 0): Promise<void> {
    this.running = await TestServer.start({ world: this.world, settings: this.settings, port });
  }

  get address(): string {
    return this.running.address;
  }

  firstCode = (): Promise<string> => this.running.firstCode();

  kill = (): Promise<void> => this.running.kill();

  async killAndStart(): Promise<void> {
    const { port } = this.running;
    this.kills += 1;
    await this.running.kill();
    await this.start(port);
  }

  /** A code for the casting that it has, as the keeper's command makes one. */
  code = (casting: string): Promise<string> => this.atTheServer(({ db }) => makeCode(db, casting, 60, Date.now()));

  /** Takes the token of every tablet away. */
  revokeAll = (): Promise<void> =>
    this.atTheServer(async ({ db }) => {
      for (const { id } of await admissions(db)) await revoke(db, id, Date.now());
    });

  private async atTheServer<T>(work: (database: Database) => Promise<T>): Promise<T> {
    const database = await openDatabase(settingsOf(this.world));
    try {
      return await work(database);
    } finally {
      await database.close();
    }
  }

  async discard(): Promise<void> {
    await this.running.kill();
    rmSync(this.world.DATA_FOLDER, { recursive: true, force: true });
  }
}
