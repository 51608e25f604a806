import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { faultsIn } from './looked-over.ts';
import { settled } from './screens.ts';
import { go } from './steps.ts';

describe('the melt watch of the practice casting, by touch', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await page.getByRole('button', { name: 'Open it at the melt watch' }).click();
    await page.getByRole('heading', { level: 1, name: 'Now' }).waitFor({ timeout: 120_000 });
  });
  afterEach(async ({ task }) => {
    if (task.result?.state === 'fail' && process.env.SHOTS)
      await page.screenshot({ path: `${process.env.SHOTS}/melt-failed.png`, fullPage: true });
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  /** Taps a figure on the keypad of the screen, then Enter. */
  const tap = async (text: string): Promise<void> => {
    const keypad = page.getByRole('group', { name: 'Keypad' });
    for (const key of text)
      await keypad.getByRole('button', { name: key === '.' ? 'decimal mark' : key, exact: true }).tap();
    await keypad.getByRole('button', { name: /^Enter/ }).tap();
  };
  const words = async (locator: string): Promise<string> =>
    (await page.locator(locator).allInnerTexts()).join(' ').replace(/\s+/g, ' ');
  const title = () => page.locator('.round-entry-sheet h2').innerText();

  it('shows on Furnace what the rounds say now, the melt, the spin, and each working by a tap', async () => {
    await go(page, '/furnace');
    await page.getByRole('heading', { level: 1, name: 'Furnace' }).waitFor({ timeout: 60_000 });
    const figures = await words('.figures-sheet');
    for (const said of [/Rate over \d+\.\d h/, /Spread of the control channels/, /Face less back/, /Rim less centre/])
      expect(figures).toMatch(said);
    expect(figures).toMatch(/To the end of the heat/);
    // The rest of the casting, 698.0 h of anneal and 1 347.8 h of cool-down are left: by the plan some 86.7 days.
    expect(figures).toMatch(/Until opening day \d+, \d\d:\d\d at the earliest 86\.\d d/);
    await page.getByRole('button', { name: /^Rate over/ }).tap();
    await page.locator('dialog[open]').getByText('npm run --silent calc -- rate').waitFor();
    await page.locator('dialog[open]').getByRole('button', { name: 'Close' }).tap();
    await page.getByLabel('Hours that the rate is taken over').selectOption('12');
    // From the first of the rounds that the window takes in, with its slack: which that is goes by the clock.
    await page.getByRole('button', { name: /^Rate over 1[1-3]\.\d h/ }).waitFor();
    await settled(page);
    expect(await faultsIn(page)).toEqual([]);
  });

  it('has the one rate that was outside as a finding on the furnace', async () => {
    await page
      .getByRole('link', { name: /Spin rate over 100 turns: outside/ })
      .first()
      .waitFor();
    await page.getByRole('link', { name: 'Time the rate' }).tap();
    await page.getByRole('heading', { level: 1, name: 'Spin' }).waitFor();
    await expect.poll(() => words('.worked-figures')).toMatch(/Radius of curvature that it gives/);
  });

  it('takes the time of a hundred turns, and a rate outside is a finding at once', async () => {
    await page.getByRole('button', { name: 'Type s for 100 turns' }).tap();
    await tap('643.2');
    // 6 000 / 643.2 = 9.32836 rpm.
    await page.getByText('Saved: rate, 9.3284 rpm, within').waitFor();
    await expect.poll(() => words('.worked-figures')).toMatch(/Last timed rate .* 9\.3284 rpm within/);
    await page.getByRole('button', { name: 'Type rpm' }).tap();
    await tap('9.31');
    await page.getByText('Saved: rate, 9.3100 rpm, outside').waitFor();
    await expect
      .poll(() => page.getByRole('link', { name: /Spin rate over 100 turns: outside/ }).count())
      .toBeGreaterThan(1);
    await settled(page);
    expect(await faultsIn(page)).toEqual([]);
  });

  it('asks once about a figure that is far off, and keeps the typed text', async () => {
    await tap('93.29');
    await page.getByText(/is far from 9\.3289 rpm/).waitFor();
    await expect.poll(() => page.getByLabel('Rate of the table, rpm').inputValue()).toBe('93.29');
    for (let i = 0; i < 5; i++) await page.getByRole('button', { name: 'Rub out' }).tap();
  });

  it('reads the marks port by port, above the floor or above the core tops', async () => {
    await go(page, '/furnace');
    await page.getByRole('link', { name: 'Read the level' }).tap();
    await page.getByRole('heading', { level: 1, name: 'Melt watch' }).waitFor();
    await expect.poll(() => words('.worked-figures')).toMatch(/Port 30°: settled/);
    const before = await words('.worked-figures');
    expect(before).toMatch(/Port 300°: still falling/);
    expect(before).toMatch(/Glass accounted for of 1779\.2 kg loaded/);
    await expect.poll(title).toBe('Port 30°');
    await tap('408.2');
    await page.getByText('Saved: 30°, 408.2 mm, within').waitFor();
    await expect.poll(title).toBe('Port 120°');
    await page.getByRole('button', { name: 'From the core tops' }).tap();
    // Core tops at the wall stand at 405 − 28 = 377 mm.
    await tap('31.1');
    await page.getByText('Saved: 120°, 408.1 mm, within').waitFor();
    await expect.poll(title).toBe('Port 210°');
  });

  it('judges nothing at the port that still falls, and asks about a jump', async () => {
    await page.getByRole('button', { name: 'From the floor' }).tap();
    await page.locator('.port-switch label', { hasText: '300°' }).tap();
    await expect.poll(title).toBe('Port 300°');
    await tap('380');
    await page.getByText(/from the last reading here/).waitFor();
    for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Rub out' }).tap();
    await tap('410.1');
    await page.getByText('Saved: 300°, 410.1 mm', { exact: true }).waitFor();
  });

  it('tells what levels that do not agree can mean, with the cautions', async () => {
    await page.locator('.port-switch label', { hasText: '210°' }).tap();
    await tap('403.1');
    await page.getByText('Saved: 210°, 403.1 mm').waitFor();
    await page.getByRole('heading', { name: 'What this can mean' }).waitFor();
    const said = await words('.meanings');
    expect(said).toMatch(/ports differ by more than the limit/);
    expect(said).toMatch(/Hot glass outside the mould burns/);
    expect(said).toMatch(/local codes/i);
    await settled(page);
    expect(await faultsIn(page)).toEqual([]);
  });

  it('takes a mark in inches above the core tops', async () => {
    await go(page, '/setup?part=looks');
    await page.getByRole('radio', { name: 'inches' }).check({ force: true });
    await go(page, '/furnace/10.1/melt');
    await page.getByRole('button', { name: 'From the core tops' }).tap();
    // 31.1 mm are 1.224 in; the inch is 25.4 mm (NIST SP 811, B.8), so 377 mm and 31.09 mm are 16.067 in.
    await tap('1.224');
    await page.getByText('Saved: 30°, 16.067 in, within').waitFor();
    await go(page, '/record');
    await page.locator('main a[href^="/record/"]').first().click();
    await page
      .getByText(/1\.224 in above the core tops/)
      .first()
      .waitFor();
  });

  it('leads to the levels from the operation as well', async () => {
    await go(page, '/sequence/10.1');
    await page.locator('main a[href="/furnace/10.1/melt"]').first().waitFor();
    await page.locator('main a[href="/furnace/10.1/spin"]').first().waitFor();
  });

  it('showed no error on the way', () => {
    expect(tablet.problems).toEqual([]);
  });
});
