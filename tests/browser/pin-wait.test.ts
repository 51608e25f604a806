import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { become, choosePin, go, openPractice, typePin } from './steps.ts';

/** The practice crew's PIN, and one that is not. */
const PIN = '1234';
const WRONG = '9999';
const SIGNER = 'Edda Lorn';
const HOLD = '/hold/H02';
const OPEN_HOLD = '/hold/H05';
const NEW = '4711';
const KEEPER = 'Hanna Vik';
const QUALITY = 'Milo Quist';
const NO_KEY = 'This person has no key on this tablet.';

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
  });

  const dialog = () => page.locator('dialog[open]');

  /** A keeper opens a person's page in Setup. */
  async function setUp(name: string): Promise<void> {
    await go(page, '/setup?part=people');
    await page.locator('.setup-list').getByRole('button', { name }).click();
    await page.getByRole('heading', { name }).waitFor();
  }

  /** Up to the PIN of somebody who refuses a hold point that is open. */
  async function askRefuser(name: string): Promise<void> {
    await go(page, OPEN_HOLD);
    await page.getByRole('button', { name: 'Refuse, with reason' }).click();
    await dialog()
      .getByText(new RegExp(`^${name}`))
      .first()
      .click();
    await dialog().getByLabel('Reason').fill('Not looked at yet.');
    await dialog().getByRole('button', { name: 'Refuse with PIN' }).click();
    await page.locator('.pin-field').waitFor();
  }

  /** A reason, and the keeper's PIN. */
  async function retire(button: string, name: string): Promise<void> {
    await page.getByRole('button', { name: button, exact: true }).click();
    await dialog().getByRole('button', { name: 'Retire: the reason is missing' }).click();
    await dialog().getByText('A reason is missing.').waitFor();
    await dialog().getByLabel('Reason').fill('Left the works.');
    await dialog().getByRole('button', { name: 'Retire with PIN' }).click();
    await typePin(page, PIN);
    await page.getByText(`${name} is retired.`).waitFor();
  }

  it('are no way back in for who forgot theirs: a keeper vouches for a new PIN, and the old one opens nothing', async () => {
    await become(page, KEEPER);
    await setUp(SIGNER);
    await page.getByRole('button', { name: 'New PIN' }).click();
    await choosePin(page, NEW);
    await page.getByRole('heading', { name: `Vouch for a new PIN of ${SIGNER}` }).waitFor();
    await typePin(page, PIN);
    await page.getByText(`${SIGNER} has a new PIN on this tablet.`).waitFor();
    // What was signed with the old key stands.
    await go(page, HOLD);
    await page.locator('.hold-places').getByText(`${SIGNER},`).waitFor();
    await askRefuser(SIGNER);
    expect(await tried(PIN)).toBe('That is not the PIN.');
    await typePin(page, NEW);
    await page.locator('#missing').getByText(`Refused by ${SIGNER}, process engineer`).waitFor();
  });

  it('need no guessing for who leaves: the key is retired, then the person; what they signed stands', async () => {
    await setUp(QUALITY);
    await retire('Retire the key on Hall tablet', `the key of ${QUALITY} on Hall tablet`);
    await setUp(QUALITY);
    await page.getByRole('button', { name: 'PIN for this tablet' }).waitFor();
    await askRefuser(QUALITY);
    await typePin(page, PIN);
    await page.locator('.pin-said').getByText(NO_KEY).waitFor();
    await setUp(SIGNER);
    await retire(`Retire ${SIGNER}`, SIGNER);
    await expect.poll(() => page.locator('.setup-list').innerText()).not.toContain(SIGNER);
    await go(page, '/hold/H01');
    await page.locator('.hold-gate .gate-word').getByText('released', { exact: true }).waitFor();
    await page.locator('.hold-gate').getByText(QUALITY).first().waitFor();
    await go(page, HOLD);
    await page.locator('.hold-places').getByText(`${SIGNER},`).waitFor();
    // Nobody is offered to sign who has left.
    await page.getByRole('button', { name: 'Refuse, with reason' }).click();
    await dialog().getByText(QUALITY).first().waitFor();
    expect(await dialog().getByText(SIGNER).count()).toBe(0);
    expect(tablet.problems).toEqual([]);
  });
});
