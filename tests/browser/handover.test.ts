import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { go, openPractice, typePin } from './steps.ts';

const PIN = '1234';
/** Taps besides PINs and free text that a whole handover may take. */
const TAPS = 30;

/** Counts what a hand does on the page; keys of the PIN pad do not count. */
async function countTaps(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    const seen = { taps: 0 };
    Object.assign(globalThis, { seen });
    addEventListener(
      'click',
      (event) => {
        // A label's click comes again from the control that it names.
        if (event.isTrusted && event.detail > 0 && !(event.target as Element).closest('.pin-pad')) seen.taps += 1;
      },
      { capture: true },
    );
  });
  return () => page.evaluate(() => (globalThis as unknown as { seen: { taps: number } }).seen.taps);
}

describe('a shift handover on one tablet, offline', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;
  let taps: () => Promise<number>;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await server.kill();
    await go(page, '/');
  });
  afterAll(() => tablet.discard());

  const main = () => page.locator('main');

  it('keeps the one that waits on Now, and opens it with a tap', async () => {
    await page.locator('main a[href^="/handover"]').first().waitFor();
    taps = await countTaps(page);
    await page.locator('main a[href^="/handover"]').first().click();
    await page.getByRole('button', { name: 'Talked through' }).waitFor();
  });

  it('is talked through item by item, one with a question, and every line leads to its entries', async () => {
    await page.getByRole('button', { name: 'Question' }).click();
    const form = page.locator('dialog[open]');
    await form.locator('textarea, input').first().fill('Who holds the key?');
    await form.locator('.button.main').click();
    await expect.poll(() => main().innerText()).toContain('Asked: Who holds the key?');
    await page.getByRole('button', { name: 'Talked through' }).click();
    const next = page.locator('.ho-act .button.main').last();
    for (;;) {
      await expect.poll(() => next.innerText()).not.toBe('Saving');
      const words = await next.innerText();
      if (words === 'Accept with PIN') break;
      expect(['Talked through', 'Keep the talk']).toContain(words);
      const before = await page.locator('.ho-act').innerText();
      await next.click();
      await expect.poll(() => page.locator('.ho-act').innerText()).not.toBe(before);
    }
  });

  it('is accepted with the PIN after a look of one’s own, in at most thirty taps', async () => {
    await page.getByRole('button', { name: 'Accept with PIN' }).click();
    await expect.poll(() => main().innerText()).toContain('Say first what you looked at yourself');
    await page.getByLabel('What you looked at yourself').fill('Walked round the tub with a lamp.');
    await page.getByRole('button', { name: 'Accept with PIN' }).click();
    await typePin(page, PIN);
    await expect.poll(() => main().innerText()).toContain('It is accepted by');
    const count = await taps();
    console.log(`the handover took ${count} taps`);
    expect(count).toBeLessThanOrEqual(TAPS);
    expect(count).toBeGreaterThan(5);
  });

  it('leads from each line to the entries behind it', async () => {
    const rows = main().locator('.ho-row');
    const count = await rows.count();
    let links = 0;
    for (let i = 0; i < count; i++) {
      await rows.nth(i).click();
      const sheet = page.locator('dialog[open]');
      await sheet.waitFor();
      links += await sheet.locator('a[href^="/"]').count();
      await page.keyboard.press('Escape');
    }
    expect(count).toBeGreaterThan(5);
    expect(links).toBeGreaterThan(count / 2);
  });

  it('prints one page', async () => {
    await page.emulateMedia({ media: 'print' });
    const pdf = await page.pdf({ format: 'A4', preferCSSPageSize: true });
    await page.emulateMedia({ media: 'screen' });
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g)).toHaveLength(1);
  });

  it('stays gone from Now, and the next one begins from it', async () => {
    await go(page, '/handover');
    await page.getByRole('button', { name: 'Hand over with PIN' }).waitFor();
    expect(await main().innerText()).toContain('since');
  });
});
