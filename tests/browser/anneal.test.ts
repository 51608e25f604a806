import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { faultsIn } from './looked-over.ts';
import { settled } from './screens.ts';
import { go } from './steps.ts';

describe('the anneal of the practice casting', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await page.getByRole('button', { name: 'Open it in the anneal' }).click();
    await page.getByRole('heading', { level: 1, name: 'Now' }).waitFor({ timeout: 120_000 });
    await go(page, '/furnace');
    await page.getByRole('heading', { level: 2, name: 'Glass' }).waitFor({ timeout: 60_000 });
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  it('shows rate, difference and stress both ways, and which thickness was used', async () => {
    const sheet = async () => (await page.locator('.anneal-sheet').innerText()).replace(/\s+/g, ' ');
    await expect.poll(sheet).toMatch(/Stays at the centre, by the record/);
    const said = await sheet();
    expect(said).toMatch(/Cooling against its limit permitted 0\.239 K\/h 0\.1[45]\d K\/h within/);
    expect(said).toMatch(/Through the glass at MC-\d limit 2\.27 K/);
    expect(said).toMatch(/Stays at the centre, by the rate/);
    expect(said).toMatch(/Stays at the centre, by the record/);
    expect(said).toContain('a = 202.5 mm: half of the 405 mm edge');
  });

  it('shows the working of both by a tap, with the desk command and the doubts', async () => {
    await page.getByRole('button', { name: /^Stays at the centre, by the record/ }).tap();
    const dialog = page.locator('dialog[open]');
    await dialog.getByText('npm run --silent calc -- cooling-stress').waitFor();
    await dialog.getByText('npm run --silent calc -- viscoelastic-slab').waitFor();
    await dialog.getByText(/^Doubts: the expansion/).waitFor();
    await dialog.getByRole('button', { name: 'Close' }).tap();
  });

  it('fits the tablet and the phone', async () => {
    await settled(page);
    expect(await faultsIn(page)).toEqual([]);
  });

  it('showed no error on the way', () => {
    expect(tablet.problems).toEqual([]);
  });
});
