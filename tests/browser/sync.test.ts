import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeCode } from '../../src/server/access.ts';
import { openDatabase } from '../../src/server/database/open-database.ts';
import { settingsOf } from '../server/engines.ts';
import { BesideTheApp, castingOf } from './beside.ts';
import { TestServer, TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { become, go, openPractice } from './steps.ts';

const SERVER = '/setup?part=tablets&show=server';
const line = (page: Page) => page.locator('.title-state');

async function joinServer(page: Page, code: string): Promise<void> {
  await page.getByLabel('One-time code').fill(code);
  await page.getByRole('button', { name: /^Join (the server|again)$/ }).click();
}

const SYNCED = 'Kept here and elsewhere';

/** From the first run into the server's casting. */
async function joinFromStart(page: Page, code: string, name: string): Promise<void> {
  await page.getByRole('link', { name: 'Join a casting that others have begun' }).click();
  await page.getByLabel('One-time code').fill(code);
  await page.getByRole('button', { name: 'Find the casting' }).click();
  await page.getByRole('heading', { name: 'Compare the fingerprint' }).waitFor();
  await page.getByLabel(/^Name of this tablet/).fill(name);
  await page.getByRole('button', { name: 'All eight are the same: join' }).click();
  await page.getByRole('heading', { name: 'This tablet is not admitted yet' }).waitFor();
}

/** A server that is killed without a word and started again where it was. */
class KilledServer {
  private readonly world = { DATA_FOLDER: mkdtempSync(join(tmpdir(), 'lehrbook-data-')) };
  private running!: TestServer;
  kills = 0;

  constructor(private readonly settings: Readonly<Record<string, string>>) {}

  async start(port = 0): Promise<void> {
    this.running = await TestServer.start({ world: this.world, settings: this.settings, port });
  }

  get address(): string {
    return this.running.address;
  }

  firstCode = (): Promise<string> => this.running.firstCode();

  async killAndStart(): Promise<void> {
    const { port } = this.running;
    this.kills += 1;
    await this.running.kill();
    await this.start(port);
  }

  /** A code for the casting that it has, as the keeper's command makes one. */
  async code(casting: string): Promise<string> {
    const database = await openDatabase(settingsOf(this.world));
    const code = await makeCode(database.db, casting, 60, Date.now());
    await database.close();
    return code;
  }

  async discard(): Promise<void> {
    await this.running.kill();
    rmSync(this.world.DATA_FOLDER, { recursive: true, force: true });
  }
}

describe('a tablet and the server', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
    await waitUntilOffline(page);
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  it('says so when the code is wrong, and joins with the right one, however it is typed', async () => {
    await go(page, SERVER);
    await joinServer(page, 'ABCD');
    await page.getByText('A code has 12 letters and digits; there are 4.').waitFor();
    await joinServer(page, 'ABCD-EFGH-JKMN');
    await page.getByText('The server does not take this code').waitFor();
    expect(await line(page).innerText()).toContain('not yet elsewhere');
    const code = await server.firstCode();
    await joinServer(page, ` ${code.toLowerCase().replaceAll('-', ' ')}`);
    await page.getByRole('status').getByText('in sync').waitFor();
    await line(page).getByText('Kept here and elsewhere').waitFor();
    await line(page)
      .getByText(/last carried \d\d:\d\d today/)
      .waitFor();
  });

  it('says what is kept here alone while there is no network, and carries it when there is one again', async () => {
    await become(page, 'Hanna Vik');
    await page.context().setOffline(true);
    await go(page, '/');
    await page.getByLabel(/note/i).first().fill('Written with no network');
    await page.keyboard.press('Enter');
    await line(page).getByText('Kept here · 1 not yet elsewhere').waitFor();
    expect(await page.locator('.state-alarm, .state-late').count()).toBe(0);
    await page.context().setOffline(false);
    await line(page).getByText('Kept here and elsewhere').waitFor();
  });
});

describe('two tablets and a server that is killed', () => {
  const KILLS = 4;
  const [first, second] = [new TestTabletBrowser(), new TestTabletBrowser()];
  // Small batches, so that there are many to be met by a kill.
  const server = new KilledServer({ MAX_BATCH_ENTRIES: '100' });
  const beside = new BesideTheApp();
  let a: Page;
  let b: Page;
  let casting: string;

  beforeAll(async () => {
    await Promise.all([server.start(), beside.build()]);
    a = await first.open();
    b = await second.open();
    await a.goto(server.address);
    await openPractice(a);
    await go(a, SERVER);
    await joinServer(a, await server.firstCode());
    await line(a).getByText(SYNCED).waitFor();
    casting = await castingOf(a);
    await b.goto(server.address);
    await joinFromStart(b, await server.code(casting), 'Lift tablet');
    await line(b).getByText(SYNCED).waitFor();
  });
  afterAll(async () => {
    await first.discard();
    await second.discard();
    await server.discard();
    beside.discard();
  });

  it('end with the same heads and the same state, nothing lost and nothing doubled', async () => {
    const before = await beside.stored(a, casting);
    for (const page of [a, b]) await page.context().setOffline(true);
    await beside.write(a, casting, 1000);
    await beside.write(b, casting, 1000);

    let asked = 0;
    let lost = 0;
    let restarting: Promise<void> = Promise.resolve();
    for (const page of [a, b]) {
      page.on('request', (request) => {
        if (!request.url().includes('/sync/entries')) return;
        asked += 1;
        if (asked % 5 !== 0 || server.kills >= KILLS) return;
        restarting = restarting.then(() => server.killAndStart());
      });
      page.on('requestfailed', (request) => {
        const why = request.failure()?.errorText ?? '';
        if (request.url().includes('/sync/') && /ERR_(CONNECTION|EMPTY|INCOMPLETE)/.test(why)) lost += 1;
      });
    }
    for (const page of [a, b]) await page.context().setOffline(false);
    await expect.poll(() => server.kills, { timeout: 120_000 }).toBe(KILLS);
    await restarting;
    const both = async () => [await beside.stored(a, casting), await beside.stored(b, casting)] as const;
    await expect
      .poll(async () => (await both()).map((s) => s.entries), { timeout: 120_000 })
      .toEqual([before.entries + 2000, before.entries + 2000]);

    const [onA, onB] = await both();
    expect(onA).toEqual({ ...onB, rows: onA.entries });
    expect(onA.faults).toEqual([]);
    // Else the kills would have shown nothing.
    expect(lost).toBeGreaterThanOrEqual(KILLS);
    for (const page of [a, b]) await line(page).getByText(SYNCED).waitFor();
  });
});

describe('a tablet that has much to fetch', () => {
  const ENTRIES = 6_000;
  const [first, second] = [new TestTabletBrowser(), new TestTabletBrowser()];
  const server = new KilledServer({ MAX_BATCH_ENTRIES: '250' });
  const beside = new BesideTheApp();
  let a: Page;
  let casting: string;

  beforeAll(async () => {
    await Promise.all([server.start(), beside.build()]);
    a = await first.open();
    await a.goto(server.address);
    await a.getByRole('heading', { level: 1 }).waitFor();
    casting = await beside.importLong(a, ENTRIES, 4);
    await go(a, '/');
    await go(a, SERVER);
    await joinServer(a, await server.firstCode());
    await line(a).getByText(SYNCED).waitFor({ timeout: 120_000 });
  });
  afterAll(async () => {
    await first.discard();
    await second.discard();
    await server.discard();
    beside.discard();
  });

  it('shows progress, can be closed half way, and goes on where it was', async () => {
    let b = await second.open();
    await b.goto(server.address);
    await joinFromStart(b, await server.code(casting), 'Lift tablet');
    await line(b)
      .getByText(/Carrying · \d+ to go/)
      .waitFor();
    await second.kill();

    b = await second.open();
    const from: number[] = [];
    b.on('request', (request) => {
      const after = /after=(\d+)/.exec(request.url())?.[1];
      if (after !== undefined) from.push(Number(after));
    });
    await b.goto(server.address);
    await b.getByText(SYNCED).waitFor({ timeout: 120_000 });
    await expect.poll(async () => (await beside.stored(b, casting)).entries, { timeout: 120_000 }).toBe(ENTRIES);
    expect(from[0]).toBeGreaterThanOrEqual(250);
    expect(from[0]).toBeLessThan(ENTRIES);
    const [onA, onB] = [await beside.stored(a, casting), await beside.stored(b, casting)];
    expect(onB).toEqual({ ...onA, rows: ENTRIES });
    expect([...first.problems, ...second.problems]).toEqual([]);
  });
});
