import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { go, openPractice, typePin } from './steps.ts';
import { countTaps, tapAndType } from './taps.ts';

const PIN = '1234';
/** Taps besides PINs and free text that a whole handover may take. */
const TAPS = 30;

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

  it('is talked through item by item, one with a question', async () => {
    await page.getByRole('button', { name: 'Question' }).click();
    const form = page.locator('dialog[open]');
    await tapAndType(page, form.locator('textarea').first(), 'Who holds the key?');
    await tapAndType(page, form.locator('textarea').nth(1), 'The lead.');
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
    await tapAndType(page, page.getByLabel('What you looked at yourself'), 'Walked round the tub with a lamp.');
    await page.getByRole('button', { name: 'Accept with PIN' }).click();
    await typePin(page, PIN);
    await expect.poll(() => main().innerText()).toContain('It is accepted by');
    const count = await taps();
    console.log(`the handover took ${count} taps`);
    expect(count).toBeLessThanOrEqual(TAPS);
    expect(count).toBeGreaterThan(5);
  });

  it('leads from every line on the screen to what it rests on, and there is something there', async () => {
    const rows = main().locator('.ho-row');
    const sheet = page.locator('dialog[open]');
    const signed = new URL(page.url()).pathname;
    const visited = new Set<string>();
    const count = await rows.count();
    for (let i = 0; i < count; i++) {
      const shown = await rows.nth(i).locator('.ho-line').count();
      await rows.nth(i).click();
      await sheet.waitFor();
      const ways = await sheet
        .locator('.ho-behind')
        .evaluateAll((all) => all.map((s) => [...s.querySelectorAll('a')].map((a) => a.getAttribute('href')!)));
      expect(ways.length, `item ${i + 1}`).toBe(shown);
      expect(ways.filter((w) => w.length === 0)).toEqual([]);
      expect(await sheet.innerText()).not.toContain('not on this tablet');
      for (const [n, hrefs] of ways.entries()) {
        // Of many entries behind a line one is enough; every other way is gone.
        const go = hrefs.filter((href, at) => at === 0 || !href.startsWith('/record/'));
        for (const href of go.filter((h) => !visited.has(h))) {
          visited.add(href);
          await sheet.locator('.ho-behind').nth(n).locator(`a[href="${href}"]`).first().click();
          await sheet.waitFor({ state: 'detached' });
          await page.waitForURL((url) => `${url.pathname}${url.search}` === href);
          await main().locator('.sheet').first().waitFor();
          await arrived(href);
          await page.goBack();
          await page.waitForURL((url) => url.pathname === signed);
          await rows.nth(i).click();
          await sheet.waitFor();
        }
      }
      await page.keyboard.press('Escape');
      await sheet.waitFor({ state: 'detached' });
    }
    expect(count).toBeGreaterThan(5);
    const kinds = ['/record/', '/record?', '/findings/', '/hold/', '/sequence/'];
    expect(kinds.filter((kind) => ![...visited].some((href) => href.startsWith(kind)))).toEqual([]);
  });

  /** The screen is that of what the address names. */
  async function arrived(href: string): Promise<void> {
    const [, place, name] = /^\/(\w+)[/?]?(.*)$/.exec(href)!;
    if (place === 'sequence' && name)
      await page.locator('h1').getByText(name).or(main().getByText(name)).first().waitFor();
    if (place === 'hold') await page.locator('.hold-name').getByText(name!).waitFor();
    if (place === 'findings' && name) await main().getByText('How it came').waitFor();
    if (place === 'record' && href.includes('?'))
      await main()
        .getByText(/^Entries that came since /)
        .waitFor();
    if (place === 'record' && !href.includes('?'))
      await page.getByText('Full text, as its hash is taken over it').waitFor();
    expect(
      await main()
        .getByText(/not on this tablet|not in this plan/)
        .count(),
    ).toBe(0);
  }

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
