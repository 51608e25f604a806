import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { faultsIn } from './looked-over.ts';
import { go, startCasting } from './steps.ts';

/** Counts the tones that the page starts, before anything of the app runs. */
const COUNT_TONES = `
  window.tones = 0;
  const start = OscillatorNode.prototype.start;
  OscillatorNode.prototype.start = function (...when) { window.tones += 1; return start.apply(this, when); };
`;
const tones = (page: Page): Promise<number> => page.evaluate(() => (globalThis as unknown as { tones: number }).tones);

const GROUPS_NOT_THERE = ['core middle', 'core tops', 'pyrometer'];
/** Figures of a cold tub, °C, kW and rpm, in walking order; the crown is typed as emf. */
const COLD: readonly (readonly [string, string])[] = [
  ['RJ-1', '22.4'],
  ['RJ-2', '22.9'],
  ...[1, 2, 3, 4, 5].map((n) => [`HZ-${n}`, `${n}.5`] as const),
];

describe('a round in the hall, with no server from before the first entry', () => {
  const tablet = new TestTabletBrowser();
  let page: Page;
  let round = '';

  beforeAll(async () => {
    const server = await TestServer.start();
    page = await tablet.open();
    await page.addInitScript(COUNT_TONES);
    await page.goto(server.address);
    await waitUntilOffline(page);
    await server.kill();
    round = new URL('/furnace/4.1/round', page.url()).href;
    await startCasting(page, 'Lena Brandt', '2468');
  });
  afterEach(async ({ task }) => {
    if (task.result?.state === 'fail' && process.env.SHOTS)
      await page.screenshot({ path: `${process.env.SHOTS}/rounds-failed.png` });
  });
  afterAll(async () => {
    await tablet.discard();
  });

  const heading = () => page.locator('.round-entry-sheet h2');
  const read = async (channel: string, text: string) => {
    await expect.poll(() => heading().innerText()).toBe(channel);
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  };
  const progress = () => page.locator('.round-entry-sheet .sheet-aside').innerText();
  const choose = (channel: string) =>
    page
      .getByRole('button', { name: new RegExp(`^${channel}(?![\\w-])`) })
      .first()
      .click();

  it('refuses a heat that starts in the future, starts one now, and the sound calls its first round', async () => {
    await go(page, '/furnace');
    await page.getByRole('button', { name: 'Start the heat' }).click();
    await page.getByText('It was started earlier').click();
    await page.getByLabel(/^Date of the start/).fill('2199-01-01');
    await page.getByLabel(/^Time of the start/).fill('10:00');
    await page.getByRole('button', { name: 'The heat begins' }).click();
    await page.getByText(/has not come yet/).waitFor();
    await page.getByText('It was started earlier').click();
    await page.getByRole('button', { name: 'The heat begins' }).click();
    await page.getByRole('heading', { name: 'Segment 1' }).waitFor();
    await expect.poll(() => tones(page), { timeout: 15_000 }).toBeGreaterThan(0);
  });

  it('shows the due round on Now and starts it there', async () => {
    await go(page, '/');
    await page.getByRole('heading', { name: 'Round 1', exact: true }).waitFor();
    expect(await faultsIn(page)).toEqual([]);
    await page.getByRole('link', { name: 'Start the round' }).click();
    await expect.poll(() => heading().innerText()).toBe('RJ-1');
    await expect.poll(() => page.locator('h1').innerText()).toBe('Round 1');
  });

  it('goes from channel to channel by Enter, leaves out what is not there, and adds up the zones', async () => {
    for (const [channel, text] of COLD) await read(channel, text);
    await expect.poll(() => heading().innerText()).toBe('CR-1');
    await expect.poll(() => progress()).toMatch(/^8 of 54/);
    for (const group of GROUPS_NOT_THERE) {
      const button = page.getByRole('button', { name: `Leave out ${group}` });
      if ((await button.count()) > 0) await button.click();
    }
    await expect.poll(() => progress()).toMatch(/^8 of 42/);
    const sum = page.getByRole('button', { name: /^HZ-sum/ });
    await expect.poll(async () => (await sum.innerText()).replace(/\s+/g, ' ')).toContain('17.5 kW');
  });

  it('turns an emf into °C with the junction of this round, and keeps the emf', async () => {
    await page.getByRole('button', { name: 'Type mV' }).click();
    // Type S: 0.000 mV against a junction of 22.4 °C is 22.4 °C, whatever the function.
    await read('CR-1', '0.000');
    const crown = page.getByRole('button', { name: /^CR-1/ });
    await expect.poll(async () => (await crown.innerText()).replace(/\s+/g, ' ')).toContain('22.4 °C');
  });

  it('takes a channel that is dead with its reason and the one that stands in', async () => {
    await choose('CR-2');
    await page.getByRole('button', { name: 'Channel dead' }).click();
    await page.getByRole('button', { name: 'Call it dead' }).click();
    await page.getByText('Choose a reason first.').waitFor();
    expect(await faultsIn(page)).toEqual([]);
    await page.locator('dialog[open]').getByText('open circuit').click();
    await page.locator('dialog[open]').getByText('CR-5', { exact: true }).click();
    await page.getByRole('button', { name: 'Call it dead' }).click();
    await expect.poll(() => heading().innerText()).toBe('CR-3');
    await choose('CR-2');
    await page.getByText('Dead: open circuit. CR-5 stands in').waitFor();
  });

  it('loses nothing by a reload in the middle of a figure, or when the browser is closed', async () => {
    await choose('CR-3');
    await page.keyboard.type('0.0');
    await page.waitForTimeout(200);
    await page.reload();
    await expect.poll(() => heading().innerText()).toBe('CR-3');
    const field = page.getByLabel('Channel CR-3, mV');
    await expect.poll(() => field.inputValue()).toBe('0.0');
    await expect.poll(() => progress()).toMatch(/^11 of 42/);
    await tablet.close();
    page = await tablet.open();
    await page.goto(round);
    await expect.poll(() => heading().innerText()).toBe('CR-3');
    await expect.poll(() => page.getByLabel('Channel CR-3, mV').inputValue()).toBe('0.0');
  });

  it('keeps text that is no figure and says so', async () => {
    await choose('CR-4');
    await page.keyboard.type('0.0.1');
    await page.keyboard.press('Enter');
    await page
      .getByText(/two decimal marks/)
      .first()
      .waitFor();
    await expect.poll(() => page.getByLabel('Channel CR-4, mV').inputValue()).toBe('0.0.1');
    await page.getByLabel('Channel CR-4, mV').fill('0.001');
    await page.keyboard.press('Enter');
  });

  it('saves the round as one entry, without inventing what was not read', async () => {
    for (const n of [1, 2, 3, 4, 5, 6]) {
      await choose(`BP-${n}`);
      const unit = page.getByRole('button', { name: 'Type °C' });
      if ((await unit.count()) > 0) await unit.click();
      await read(`BP-${n}`, n === 6 ? '21.9' : `21.${n}`);
    }
    await page.getByRole('button', { name: /^Save the round: \d+ not read/ }).click();
    const asked = await page.locator('dialog[open]').innerText();
    expect(asked).toMatch(/Not read: CR-5, CR-6/);
    expect(asked).toMatch(/for round 1/);
    await page.getByRole('button', { name: /^Save 18 channels/ }).click();
    await page.getByText('1 of 105 rounds written').waitFor();
    const last = (await page.locator('.last-round').innerText()).replace(/\s+/g, ' ');
    // Mean of 21.1, 21.2, 21.3, 21.4, 21.5 and 21.9 by hand.
    expect(last).toContain('21.4');
    expect(last).toContain('6 of 7, control');
    expect(last).toContain('within');
    await go(page, '/record');
    await page.getByText('heat P1, 18 channels').first().waitFor();
  });

  it('asks once about swapped digits and takes the proposal', async () => {
    await go(page, '/furnace/4.1/round');
    await choose('BP-1');
    await page.keyboard.type('12.1');
    await page.keyboard.press('Enter');
    await page.getByText('12.1 or 21.1?').waitFor();
    await expect.poll(() => page.getByLabel('Channel BP-1, °C').inputValue()).toBe('12.1');
    expect(await faultsIn(page)).toEqual([]);
    await page.getByRole('button', { name: 'It is 21.1' }).click();
    await expect.poll(() => page.getByLabel('Channel BP-1, °C').inputValue()).toBe('21.1');
    await page.keyboard.press('Enter');
    await expect.poll(() => heading().innerText()).toBe('BP-2');
    // The dead one is passed by until somebody says otherwise.
    await choose('CR-2');
    await page.getByText('Dead: open circuit. CR-5 stands in').waitFor();
  });

  it('turns the due sound down in Setup, where a button tries it', async () => {
    await go(page, '/setup?part=looks');
    const quiet = page.getByRole('radio', { name: /^Quiet/ });
    await quiet.check({ force: true });
    await page.getByRole('button', { name: 'Try the sound' }).click();
    await page.reload();
    await expect.poll(() => page.getByRole('radio', { name: /^Quiet/ }).isChecked()).toBe(true);
  });

  it('showed no error on the way', () => {
    expect(tablet.problems).toEqual([]);
  });
});
