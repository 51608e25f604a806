import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FetchHalfWay } from '../bench/fetch-half-way.ts';
import { BesideTheApp, castingOf } from './beside.ts';
import { TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { faultsIn } from './looked-over.ts';
import { joinFromStart, joinServer, KilledServer, line, SERVER, SYNCED } from './server-steps.ts';
import { become, go, openPractice, typePin } from './steps.ts';

/** Of everybody in the practice casting. */
const PIN = '1234';

describe('a tablet and the server', () => {
  const tablet = new TestTabletBrowser();
  const server = new KilledServer();
  let page: Page;

  beforeAll(async () => {
    await server.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
    await waitUntilOffline(page);
  });
  afterAll(async () => {
    await tablet.discard();
    await server.discard();
  });

  it('says so when the code is wrong, and joins with the right one, however it is typed', async () => {
    await go(page, SERVER);
    await joinServer(page, 'ABCD');
    await page.getByText('A code has 12 letters and digits; there are 4.').waitFor();
    await joinServer(page, 'ABCD-EFGH-JKMN');
    await page.getByText('The server does not take this code').waitFor();
    await expect.poll(() => line(page).innerText()).toContain('not yet elsewhere');
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
    await line(page).getByText(SYNCED).waitFor();
  });

  it('says calmly that the server does not answer', async () => {
    await go(page, SERVER);
    await page.getByRole('status').getByText('in sync').waitFor();
    expect(await faultsIn(page)).toEqual([]);
    await server.kill();
    await page.getByRole('button', { name: 'Sync now' }).click();
    await page.getByText('No answer from the server').waitFor();
    expect(await page.locator('.state-alarm, .state-late, .error').count()).toBe(0);
    await server.start(Number(new URL(page.url()).port));
    await page.getByRole('button', { name: 'Sync now' }).click();
    await page.getByRole('status').getByText('in sync').waitFor();
  });

  it('says that its token was revoked, and joins again with another code', async () => {
    await server.revokeAll();
    await page.getByRole('button', { name: 'Sync now' }).click();
    await page.getByText(/The server lets this tablet in no more/).waitFor();
    await line(page).getByText('Not carried: see why in Setup').waitFor();
    expect(await faultsIn(page)).toEqual([]);
    await joinServer(page, await server.code(await castingOf(page)));
    await page.getByRole('status').getByText('in sync').waitFor();
    await line(page).getByText(SYNCED).waitFor();
  });

  it('leaves the server, and keeps what it has', async () => {
    await page.getByRole('button', { name: 'Leave the server' }).click();
    await page.getByRole('button', { name: 'Leave it' }).click();
    await page.getByRole('button', { name: 'Join the server' }).waitFor();
    await line(page).getByText(SYNCED).waitFor();
    expect(tablet.problems).toEqual([]);
  });
});

describe('two tablets and a server that is killed', () => {
  const KILLS = 3;
  const [first, second] = [new TestTabletBrowser(), new TestTabletBrowser()];
  // Small batches, so that there are many to be met by a kill.
  const server = new KilledServer({ MAX_BATCH_ENTRIES: '200' });
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
  });
  afterAll(async () => {
    await first.discard();
    await second.discard();
    await server.discard();
    beside.discard();
  });

  it('know each other with no file carried: a code, the fingerprint, a request, a keeper', async () => {
    await joinFromStart(b, await server.code(casting), 'Lift tablet');
    await b.getByLabel('Who else will sign on this tablet').selectOption({ label: 'Edda Lorn' });
    await b.getByRole('button', { name: 'Edda Lorn types a PIN' }).click();
    await typePin(b, PIN);
    await b.getByRole('heading', { name: 'The same PIN again' }).waitFor();
    await typePin(b, PIN);
    await b.getByRole('definition').filter({ hasText: 'Edda Lorn' }).waitFor();
    await b.getByRole('button', { name: 'Ask through the server' }).click();
    await b.locator('dialog[open]').getByText('Edda Lorn', { exact: true }).click();
    await b.getByText(/^Asked\. With the next sync/).waitFor();

    await become(a, 'Hanna Vik');
    await go(a, '/setup?part=tablets');
    await a.getByRole('button', { name: /Asks to be admitted as Lift tablet/ }).click();
    await a.getByRole('button', { name: 'Look at what it asks for' }).click();
    await a.getByText(/vouch for keys that were made on it by Edda Lorn/).waitFor();
    await a.getByRole('button', { name: 'They are the same: admit it' }).click();
    await typePin(a, PIN);
    await a.getByText('Lift tablet is admitted.').waitFor();
    await b.getByRole('heading', { name: 'Exchange by file' }).waitFor();
    await line(b).getByText(SYNCED).waitFor();
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
        if (asked % 4 !== 0 || server.kills >= KILLS) return;
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
  let world: FetchHalfWay;
  beforeAll(async () => {
    world = await FetchHalfWay.begin(ENTRIES, { MAX_BATCH_ENTRIES: '250' });
  });
  afterAll(async () => {
    await world?.discard();
  });

  it('shows progress, can be closed half way, goes on where it was, and takes a note meanwhile', async () => {
    const { from, note, onFirst, onSecond } = await world.run();
    expect(from).toBeGreaterThanOrEqual(250);
    expect(from).toBeLessThan(ENTRIES);
    expect(note).toBe('kept while entries came in');
    expect(onSecond).toEqual({ ...onFirst, rows: ENTRIES + 1 });
    expect(onFirst.faults).toEqual([]);
    expect(world.problems).toEqual([]);
  });
});
