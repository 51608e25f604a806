import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { become, go, openPractice } from './steps.ts';

const SERVER = '/setup?part=tablets&show=server';
const line = (page: Page) => page.locator('.title-state');

async function joinServer(page: Page, code: string): Promise<void> {
  await page.getByLabel('One-time code').fill(code);
  await page.getByRole('button', { name: /^Join (the server|again)$/ }).click();
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
