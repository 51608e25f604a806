import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { go, openPractice } from './steps.ts';

describe('the preheat of the practice casting, 166.2 h of rounds on all channels', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;
  const main = async () => (await page.locator('main').innerText()).replace(/\s+/g, ' ');

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  it('shows what was written and what was missed, and judges the last round', async () => {
    await go(page, '/furnace');
    await page.getByText('103 of 105 rounds written, 2 missed.').waitFor();
    const shown = await main();
    expect(shown).toContain('Round 102 due ');
    expect(shown).toContain('Round 93 due ');
    expect(shown).toMatch(/back plate 7 of 7, control .* within/);
    // BD-3 is dead since hour 84, WL-5 suspect since hour 92: neither is counted.
    expect(shown).toContain('bands 3 of 4');
    expect(shown).toContain('lower wall 5 of 6');
    expect(shown).toContain('hour 166.2 of 166.2');
  });

  it('raises the missed rounds as findings, and no alarm', async () => {
    await go(page, '/findings');
    await page.getByText('Round 93 of heat P1 missed').waitFor();
    await page.getByText('Round 102 of heat P1 missed').waitFor();
    // A row says whose it is and what it blocks, or that it blocks nothing.
    await page
      .getByRole('link', {
        name: /^Round 93 of heat P1 missed \w+, open, operation [\d.]+, owner crew lead blocks nothing$/,
      })
      .waitFor();
    expect(await page.getByText(/^Alarm A/).count()).toBe(0);
  });

  it('keeps the dead channel with its reason in the round', async () => {
    await go(page, '/record');
    await page.getByRole('searchbox').fill('heat P1, 42 channels');
    await page
      .getByRole('link', { name: /heat P1, 42 channels/ })
      .first()
      .click();
    await page.getByText('open circuit').first().waitFor();
    expect(await main()).toMatch(/BD-3 .*open circuit/);
    expect(await main()).toMatch(/WL-5 .*drifts against its pair/);
  });

  it('showed no error on the way', () => {
    expect(tablet.problems).toEqual([]);
  });
});
