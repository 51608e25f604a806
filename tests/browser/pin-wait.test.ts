import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { go, openPractice, typePin } from './steps.ts';

/** The practice crew's PIN, and one that is not. */
const PIN = '1234';
const WRONG = '9999';
const SIGNER = 'Edda Lorn';
const HOLD = '/hold/H02';

describe('wrong PINs', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
    await waitUntilOffline(page);
    await server.kill();
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  const said = (): Promise<string> => page.locator('.pin-said').innerText();

  async function askForPin(): Promise<void> {
    await go(page, HOLD);
    await page.getByRole('button', { name: /^Sign( again)?$/ }).click();
    await page
      .locator('dialog[open]')
      .getByText(new RegExp(`^${SIGNER}`))
      .first()
      .click();
    await page.getByRole('button', { name: /^Sign with PIN/ }).click();
    await page.locator('.pin-field').waitFor();
  }

  /** Types a PIN and waits for what is said of it. */
  async function tried(pin: string): Promise<string> {
    await typePin(page, pin);
    await expect.poll(() => said()).toMatch(/^(That is not|Too many)/);
    return said();
  }

  /** Tries until the tablet looks at a PIN again; what is typed while it waits is not looked at. */
  async function triedAfterTheWait(pin: string): Promise<string> {
    let words = await tried(pin);
    while (words.startsWith('Too many')) words = await tried(pin);
    return words;
  }

  it('are told, and from the third on each makes the next wait longer', async () => {
    await askForPin();
    expect(await tried(WRONG)).toBe('That is not the PIN.');
    expect(await tried('8888')).toBe('That is not the PIN.');
    expect(await tried(WRONG)).toBe('That is not the PIN. The next try is in 5 seconds.');
    expect(await tried(PIN)).toMatch(/^Too many wrong PINs\. Wait [1-5] seconds, then try again\.$/);
    expect(await triedAfterTheWait(WRONG)).toBe('That is not the PIN. The next try is in 10 seconds.');
  });

  it('are not forgotten when the tablet is killed and opened again', async () => {
    const { origin } = new URL(page.url());
    await tablet.kill();
    page = await tablet.open();
    await page.goto(origin);
    await page.locator('h1').waitFor();
    await askForPin();
    expect(await triedAfterTheWait(WRONG)).toBe('That is not the PIN. The next try is in 20 seconds.');
    expect(await tried(PIN)).toMatch(/^Too many wrong PINs\. Wait (1\d|20|[1-9]) seconds/);
  });

  it('leave the right one working after the wait', async () => {
    const asked = page.locator('.pin-field');
    const answered = async (): Promise<boolean> => (await asked.count()) === 0 || (await said()).startsWith('Too many');
    await typePin(page, PIN);
    while ((await asked.count()) > 0) {
      await expect.poll(answered).toBe(true);
      if ((await asked.count()) > 0) await typePin(page, PIN);
    }
    await page.locator('.hold-places').getByText(`${SIGNER},`).waitFor();
    expect(tablet.problems).toEqual([]);
  });
});
