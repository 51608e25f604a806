import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { become, go, openPractice, typePin } from './steps.ts';
import { countTaps } from './taps.ts';

const PIN = '1234';
/** Taps besides PINs and free text that a whole handover may take. */
const TAPS = 30;
const OUTGOING = 'Tomas Reed';
const INCOMING = 'Hanna Vik';

describe('a shift handover with a heat on', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;
  let taps: () => Promise<number>;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
  });
  afterEach(async ({ task }) => {
    if (task.result?.state === 'fail' && process.env.SHOTS)
      await page.screenshot({ path: `${process.env.SHOTS}/handover-heat-failed.png` });
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  const fields = () => page.locator('.ho-channels input');

  it('runs again in the practice casting once the mark that ended it is struck', async () => {
    await become(page, OUTGOING);
    await go(page, '/record');
    await page.getByLabel('Kind').selectOption('operation');
    await page.getByLabel('Search').fill('4.1 preheat finished');
    await page.locator('main a[href^="/record/"]').first().click();
    await page.getByRole('button', { name: /^Strike it out/ }).click();
    await page.locator('dialog[open]').getByRole('button', { name: 'Strike it out' }).click();
    await typePin(page, PIN);
    await page.getByText(/^Struck by/).waitFor();
  });

  it('tells the heat by its plan and its last round, and the rounds that were missed', async () => {
    taps = await countTaps(page);
    await page.getByRole('navigation', { name: 'Places', exact: true }).getByRole('link', { name: 'Handover' }).click();
    await page.getByRole('button', { name: 'Prepare it again' }).click();
    await page.getByRole('button', { name: 'Hand over with PIN' }).waitFor();
    const words = await page.locator('.ho-items').innerText();
    expect(words).toMatch(/P1 Tub preheat, hour \d+\.\d: segment \d, /);
    expect(words).toMatch(/Last round day \d+, \d\d:\d\d: \d of 7 control channels, mean \d+\.\d °C/);
    expect(words).toMatch(/Widest pair/);
    expect(await page.locator('.ho-figures').innerText()).toContain('planned now');
    await page.getByRole('button', { name: 'Hand over with PIN' }).click();
    await typePin(page, PIN);
    await page.getByRole('button', { name: 'Talked through', exact: true }).waitFor();
    const items = await page.locator('.ho-row').count();
    for (let i = 1; i <= items; i++) {
      await expect.poll(() => page.locator('.ho-now h2 .n').innerText()).toBe(String(i));
      await page.getByRole('button', { name: 'Talked through', exact: true }).click();
    }
  });

  it('has the incoming lead read three channels before the log’s figures are shown', async () => {
    await expect.poll(() => fields().count()).toBe(3);
    if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/handover-alone.png` });
    const way = await page.getByRole('button', { name: 'Compare with the log' }).boundingBox();
    expect(way!.y + way!.height).toBeLessThanOrEqual(page.viewportSize()!.height);
    expect(await page.locator('.ho-figures').isVisible()).toBe(false);
    await page.getByRole('button', { name: 'Compare with the log' }).click();
    await page.getByText('Nothing is typed yet.').waitFor();
    await fields().first().click();
    for (const text of ['31.5', 'warm', '99']) {
      await page.keyboard.type(text);
      await page.keyboard.press('Enter');
    }
    await page.getByRole('button', { name: 'Compare with the log' }).click();
    await page.getByText(/“warm” is not a figure/).waitFor();
    // What was typed stays, and nothing of the log is shown yet.
    expect(await fields().nth(2).inputValue()).toBe('99');
    expect(await page.locator('.ho-compared').count()).toBe(0);
    await fields().nth(1).click();
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('32');
    await page.getByRole('button', { name: 'Compare with the log' }).click();
    const compared = page.locator('.ho-compared li');
    await expect.poll(() => compared.count()).toBe(3);
    expect(await compared.nth(2).innerText()).toContain('ask first');
    // The way on is in sight without scrolling.
    const accept = await page.getByRole('button', { name: 'Accept with PIN' }).boundingBox();
    expect(accept!.y + accept!.height).toBeLessThanOrEqual(page.viewportSize()!.height);
    if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/handover-heat.png` });
  });

  it('keeps the three readings with the acceptance', async () => {
    await page.getByRole('button', { name: 'Accept with PIN' }).click();
    await typePin(page, PIN);
    await page.getByText(`It is accepted by ${INCOMING}.`).waitFor();
    // From any screen, with the two wrong tries above.
    const count = await taps();
    console.log(`with a heat on: ${count} taps`);
    expect(count).toBeLessThanOrEqual(TAPS);
    expect(count).toBeGreaterThan(18);
    expect(await page.locator('.ho-act').innerText()).toMatch(/Looked at alone: \S+ 31\.5 (°C|mV) \(the log had /);
    await go(page, '/record');
    await page.getByLabel('Kind').selectOption('handover-answer');
    await page.locator('main a[href^="/record/"]').first().click();
    await page.getByRole('heading', { name: 'Read alone' }).waitFor();
    expect(await page.locator('main').innerText()).toMatch(/31\.5 (°C|mV)/);
    expect(tablet.problems).toEqual([]);
  });
});
