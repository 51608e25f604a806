import { createHash } from 'node:crypto';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { become, go, openPractice, readingField, typePin } from './steps.ts';

/** The practice crew, all with the PIN that the practice casting names. */
const PIN = '1234';
const LEAD = 'Hanna Vik';
const ENGINEER = 'Edda Lorn';
const QUALITY = 'Milo Quist';
const HOLD = '/hold/H02';
const DAY_MS = 86_400_000;
const REASON = 'The gaps of the cabinet were not read again.';

describe('a hold point and its evidence', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
  });
  afterEach(async ({ task }) => {
    if (task.result?.state === 'fail' && process.env.SHOTS)
      await page.screenshot({ path: `${process.env.SHOTS}/failed.png` });
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  const gate = async (): Promise<string> => (await page.locator('.hold-gate').innerText()).replace(/\s+/g, ' ');
  const dialog = () => page.locator('dialog[open]');
  const choose = (name: string) =>
    dialog()
      .getByText(new RegExp(`^${name}`))
      .first()
      .click();

  it('has nothing missing at first while in doubt: only signatures are wanted again', async () => {
    await become(page, LEAD);
    await go(page, HOLD);
    await page.getByRole('button', { name: 'Sign again' }).waitFor();
    expect(await gate()).toContain('Why it is in doubt');
    expect(await page.locator('#missing').count()).toBe(0);
  });

  it('says from what a signature now is made, before it is signed', async () => {
    await page
      .locator('.hold-seen')
      .getByText(/^A signature now is made from what \d of \d admitted tablets /)
      .waitFor();
  });

  it('opens the working of a condition, of a reading and of a value worked out', async () => {
    await page.getByRole('button', { name: 'Working of Spin rate over 100 turns, operation 3.3' }).click();
    await expect.poll(() => dialog().innerText()).toContain('npm run --silent calc -- conformity');
    expect(await dialog().innerText()).toContain('Worked out again from what was kept: the same');
    await page.keyboard.press('Escape');
    await go(page, '/hold/H01');
    await page.getByRole('button', { name: 'Working of Tub, roundness, operation 2.4' }).click();
    await expect.poll(() => dialog().innerText()).toContain('Minimum zone of the radii');
    await dialog()
      .getByText(/^From \d+ readings$/)
      .click();
    await dialog().locator('a[href^="/record/"]').first().click();
    await page.getByRole('heading', { level: 2, name: 'Working' }).waitFor();
  });

  it('shows an entry to its last character, and that text gives its hash', async () => {
    await page.getByText('Full text, as its hash is taken over it').click();
    const text = await page.locator('.record-scroll pre').innerText();
    const hash = new URL(page.url()).pathname.split('/').at(-1);
    expect(createHash('sha256').update(text).digest('hex')).toBe(hash);
  });

  it('goes to the first thing missing when a reading in its scope is struck', async () => {
    await go(page, '/record');
    await page.getByLabel('Kind').selectOption('reading');
    await page.getByLabel('Search').fill('gaps in the data');
    await page.locator('main a[href^="/record/"]').first().click();
    await page.getByRole('button', { name: 'Strike it out' }).click();
    await dialog().getByLabel('In own words (optional)').fill('Half a word');
    await draftKept(page, 'Half a word');
    await page.reload();
    await page.getByRole('button', { name: 'Strike it out' }).click();
    // What was half typed came back with the tablet.
    await expect.poll(() => dialog().getByLabel('In own words (optional)').inputValue()).toBe('Half a word');
    await dialog().getByRole('button', { name: 'Strike it out' }).click();
    await typePin(page, PIN);
    await page.getByText(/^Struck by/).waitFor();

    await go(page, HOLD);
    const sign = page.getByRole('button', { name: 'Sign: 1 thing missing' });
    await sign.waitFor();
    await expect.poll(() => gate()).toContain('in doubt 1 thing before release');
    expect(await page.locator('#missing').innerText()).toContain('Gaps in the data of the rotating cabinet');
    await sign.click();
    await expect.poll(() => page.evaluate(() => document.activeElement?.closest('#missing li') !== null)).toBe(true);
    await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toBe('Measure');
  });

  it('shows a refusal with its reason, which a reload does not take away while it is typed', async () => {
    await page.getByRole('button', { name: 'Refuse, with reason' }).click();
    await choose(QUALITY);
    await dialog().getByLabel('Reason').fill(REASON);
    await draftKept(page, REASON);
    await page.reload();
    await page.getByRole('button', { name: 'Refuse, with reason' }).click();
    await expect.poll(() => dialog().getByLabel('Reason').inputValue()).toBe(REASON);
    await dialog().getByRole('button', { name: 'Refuse with PIN' }).click();
    await typePin(page, PIN);
    await page.locator('#missing').getByText(`Refused by ${QUALITY}, quality`).waitFor();
    const missing = (await page.locator('#missing').innerText()).replace(/\s+/g, ' ');
    expect(missing).toContain(REASON);
    await expect.poll(() => gate()).toContain('2 things before release');
  });

  it('is released when the reading is taken again and both roles have signed again', async () => {
    await page.locator('#missing').getByRole('link', { name: 'Measure' }).click();
    await readingField(page).waitFor();
    await readingField(page).focus();
    await page.keyboard.type('0');
    await page.keyboard.press('Enter');
    await expect.poll(() => readingField(page).count()).toBe(0);
    await go(page, HOLD);
    // Who refused signs over the refusal first.
    for (const name of [QUALITY, ENGINEER]) {
      await page.getByRole('button', { name: 'Sign again' }).click();
      await choose(name);
      await page.getByRole('button', { name: /^Sign with PIN/ }).click();
      await typePin(page, PIN);
      await page.locator('.hold-places').getByText(`${name},`).waitFor();
    }
    await page.locator('.hold-gate').getByText('released').first().waitFor();
    expect(await page.locator('#missing').count()).toBe(0);
  });

  it('counts the notice to a witness from when it was given, takes no future, and no waiver before its end', async () => {
    await go(page, '/hold/H05');
    const row = page.locator('#missing li').filter({ hasText: 'Witness point W03' });
    await row.getByRole('button', { name: 'Witness' }).click();
    await dialog().getByLabel('The witness was told earlier than now').check();
    const day = (days: number) => new Date(Date.now() + days * DAY_MS).toISOString().slice(0, 10);
    await dialog().getByLabel('Date of the telling').fill(day(2));
    await dialog().getByLabel('Time of the telling').fill('22:00');
    await dialog().getByRole('button', { name: 'Record it' }).click();
    await dialog().getByText('has not come yet').waitFor();
    await dialog().getByLabel('Date of the telling').fill(day(-2));
    await dialog().getByRole('button', { name: 'Record it' }).click();
    await row.getByText(/told, its notice runs until day \d+, 22:00/).waitFor();
    await row.getByRole('button', { name: 'Witness' }).click();
    await dialog()
      .getByText(/day \d+, 22:00, written day \d+, /)
      .waitFor();
    await dialog().getByText('waived', { exact: true }).click();
    await dialog().getByRole('button', { name: 'Record it' }).click();
    // It stays missing, and says why.
    await row.getByText('had run out: that does not count').waitFor();
    expect(tablet.problems).toEqual([]);
  });
});

/** Waits until the tablet's database holds a draft with these words: a page that is left mid-write may lose it. */
async function draftKept(page: Page, words: string): Promise<void> {
  const holds = () =>
    page.evaluate(async (wanted) => {
      const done = <T>(request: IDBRequest<T>) =>
        new Promise<T>((resolve, reject) => {
          request.onsuccess = () => resolve(request.result);
          request.onerror = () => reject(request.error);
        });
      for (const { name } of await indexedDB.databases()) {
        const db = await done(indexedDB.open(name!));
        try {
          if (!db.objectStoreNames.contains('drafts')) continue;
          const drafts = await done(db.transaction('drafts').objectStore('drafts').getAll());
          if (JSON.stringify(drafts).includes(wanted)) return true;
        } finally {
          db.close();
        }
      }
      return false;
    }, words);
  await expect.poll(holds).toBe(true);
}
