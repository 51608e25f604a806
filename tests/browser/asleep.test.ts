import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violationsIn } from './axe.ts';
import { sizes, TestServer, TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { layoutFaults, setTheme, themes } from './screens.ts';
import { go, startCasting } from './steps.ts';

/** In this zone clocks went from 03:00 back to 02:00 on 25 October 2026 (EU directive 2000/84/EC). */
const ZONE = 'Europe/Berlin';
/** Midnight of that night, summer time. */
const START_MS = Date.UTC(2026, 9, 24, 22);
const HOUR_MS = 3_600_000;

describe('a heat over a change of clocks, on a tablet that then sleeps for three days', () => {
  const tablet = new TestTabletBrowser();
  let page: Page;

  /** Puts the tablet's wall clock at an hour of the heat; its timers go on. */
  async function at(hour: number): Promise<void> {
    await page.clock.setFixedTime(START_MS + hour * HOUR_MS);
  }
  const words = async (selector: string) => (await page.locator(selector).first().innerText()).replace(/\s+/g, ' ');

  /** A short walk: one control channel. */
  async function walk(value: string): Promise<void> {
    await go(page, '/furnace/4.1/round');
    await page
      .getByRole('button', { name: /^BP-0(?![\w-])/ })
      .first()
      .click();
    await expect.poll(() => page.locator('.round-entry-sheet h2').innerText()).toBe('BP-0');
    await page.keyboard.type(value);
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: /^Save the round: \d+ not read/ }).click();
    await page.getByRole('button', { name: /^Save 1 channel/ }).click();
  }

  /** Looks at the page in every size and theme. */
  async function faults(name: string): Promise<string[]> {
    const found: string[] = [];
    for (const [size, box] of Object.entries(sizes)) {
      await page.setViewportSize(box);
      for (const theme of themes) {
        await setTheme(page, theme);
        await page.waitForTimeout(200);
        if (process.env.SHOTS)
          await page.screenshot({ path: `${process.env.SHOTS}/${name}-${size}-${theme}.png`, fullPage: true });
        const all = [...(await layoutFaults(page)), ...(await violationsIn(page))];
        found.push(...all.map((f) => `${size} ${theme}: ${f}`));
      }
    }
    await page.setViewportSize(sizes.landscape);
    return found;
  }

  beforeAll(async () => {
    const server = await TestServer.start();
    page = await tablet.open();
    const devtools = await page.context().newCDPSession(page);
    await devtools.send('Emulation.setTimezoneOverride', { timezoneId: ZONE });
    await at(0);
    await page.goto(server.address);
    await waitUntilOffline(page);
    await server.kill();
    await startCasting(page, 'Lena Brandt', '2468');
  });
  afterAll(async () => {
    await tablet.discard();
  });

  it('raises an alarm at the first round outside, and says whom to call', async () => {
    await go(page, '/furnace');
    await page.getByRole('button', { name: 'Start the heat' }).click();
    await page.getByRole('button', { name: 'The heat begins' }).click();
    await page.getByRole('heading', { name: 'Segment 1' }).waitFor();
    // Planned 20 °C, band 10 K.
    await walk('80');
    await page.getByText('1 of 105 rounds written').waitFor();
    await page.locator('.alarm-sheet').waitFor();
    await expect
      .poll(() => words('.alarm-sheet'))
      .toContain('Alarm A1: outside band or spread minor, open. Call the crew lead.');
  });

  it('finds the second one in a row graver, on Furnace, on Now and among the findings, with its working', async () => {
    // 02:00 for the first time that night: planned 40 °C.
    await at(2);
    await walk('100');
    await page.getByText('2 of 105 rounds written').waitFor();
    await page.getByText('Alarm A1: outside band or spread, 2 rounds on end').first().waitFor();
    await expect.poll(() => words('.alarm-sheet')).toContain('major, open. Call the crew lead.');
    expect(await words('.alarm-sheet')).toContain('The tablet only advises');
    expect(await faults('alarm-furnace')).toEqual([]);
    await go(page, '/');
    await page.locator('.alarm-sheet').waitFor();
    expect(await faults('alarm-now')).toEqual([]);
    await page.locator('.alarm-sheet a').first().click();
    await page.getByText('How it was worked out').click();
    await page.getByText('Outside band or spread: yellow now, red at the second round in a row.').waitFor();
    await page.getByText('To work it out again at a desk:').waitFor();
    expect(await faults('alarm-finding')).toEqual([]);
    await go(page, '/findings');
    await page.getByText('Alarm A1: outside band or spread, 2 rounds on end').waitFor();
  });

  it('asks for the third round two elapsed hours later, at 03:00 by the clock that was put back', async () => {
    await at(2.5);
    // 02:30 of winter time is 3.5 h into the heat; it is now 02:30 of summer time, and 1.5 h are left.
    await go(page, '/');
    await expect.poll(() => page.locator('.dial').getAttribute('aria-label')).toBe('90 minutes to go');
    await expect.poll(() => words('.due-words')).toContain('03:00');
  });

  it('shows every round that fell due while it slept as missed, and none besides', async () => {
    await at(80.5);
    await page.reload();
    await go(page, '/furnace');
    await page.locator('.missed-sheet').waitFor();
    // By hand: 4 … 32 every 2 h are 15, 34 … 57 every 1 h 24, 58 … 68 every 2 h 6, 70 … 79 every 1 h 10: 55 in all.
    await expect.poll(() => words('.missed-sheet')).toContain('55 rounds');
    expect(await words('.missed-sheet')).toContain('Rounds 3 to 57, 55 in a row');
    expect(await words('.missed-sheet')).toMatch(/first due [^.]*03:00/);
    await page.getByText('2 of 105 rounds written').waitFor();
    await go(page, '/');
    await page.getByRole('heading', { name: 'Round 58', exact: true }).waitFor();
    await expect.poll(() => page.locator('.dial').getAttribute('aria-label')).toBe('30 minutes late');
    expect(await faults('asleep-now')).toEqual([]);
  });

  it('showed no error on the way', () => {
    expect(tablet.problems).toEqual([]);
  });
});
