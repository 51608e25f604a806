import type { Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { CarriedFiles } from './by-file.ts';
import { TestServer, TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { become, go, openPractice, typePin } from './steps.ts';
import { countTaps, tapAndType } from './taps.ts';

/** The practice crew, all with the PIN that the practice casting names. */
const PIN = '1234';
const OUTGOING = 'Hanna Vik';
const INCOMING = 'Tomas Reed';
/** Taps besides PINs and free text that a whole handover may take. */
const TAPS = 30;
/** The file and the button that opens it, in the tablet's own dialog, which no page sees. */
const TAPS_IN_FILE_DIALOG = 2;
const REASON = 'Nobody says who holds the key box.';

describe('a whole shift handover, offline', () => {
  const [first, second] = [new TestTabletBrowser(), new TestTabletBrowser()];
  const files = new CarriedFiles();
  let server: TestServer;
  let a: Page;
  let b: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    a = await first.open();
    b = await second.open();
    await a.goto(server.address);
    await b.goto(server.address);
    await openPractice(a);
  });
  afterEach(async ({ task }) => {
    if (task.result?.state !== 'fail' || !process.env.SHOTS) return;
    await a.screenshot({ path: `${process.env.SHOTS}/failed-a.png` });
    await b.screenshot({ path: `${process.env.SHOTS}/failed-b.png` });
  });
  afterAll(async () => {
    await first.discard();
    await second.discard();
    await server.kill();
    files.discard();
  });

  const button = (page: Page, name: string | RegExp): Locator => page.getByRole('button', { name, exact: true });
  const place = (page: Page, name: string): Locator =>
    page.getByRole('navigation', { name: 'Places', exact: true }).getByRole('link', { name });
  const step = async (page: Page): Promise<string> =>
    (await page.locator('.ho-steps').innerText()).replace(/\s+/g, ' ');

  /** From any screen to the signed handover; every question is answered. */
  async function prepare(page: Page): Promise<void> {
    await place(page, 'Handover').click();
    await page.locator('.ho-steps').waitFor();
    const again = button(page, 'Prepare it again');
    if ((await again.count()) > 0) await again.click();
    await button(page, 'Hand over with PIN').waitFor();
    const fields = page.locator('.ho-prompt textarea');
    await tapAndType(page, fields.first(), 'Lamp in the north, door shut');
    for (let i = 1; i < (await fields.count()); i++) {
      await page.keyboard.press('Enter');
      await page.keyboard.type(`Answer ${i}`);
    }
    await page.getByText(/^All \d+ questions are answered\.$/).waitFor();
    await button(page, 'Hand over with PIN').click();
    await typePin(page, PIN);
    await button(page, 'Talked through').waitFor();
    await expect.poll(() => step(page)).toContain(`1 Prepared ${OUTGOING}`);
  }

  /** All items, but those named are refused. */
  async function talk(page: Page, refuse: readonly string[] = []): Promise<void> {
    await button(page, 'Talked through').waitFor();
    const items = await page.locator('.ho-row .ho-title').allInnerTexts();
    for (const [i, title] of items.entries()) {
      await expect.poll(() => page.locator('.ho-now h2').innerText()).toBe(`${i + 1} ${title}`);
      if (!refuse.includes(title)) {
        await button(page, 'Talked through').click();
        continue;
      }
      await button(page, 'Refuse item').click();
      await page.getByLabel('Why it is not taken over').fill(REASON);
      await button(page, 'Refuse the item').click();
    }
    await page.locator('.ho-answer').waitFor();
  }

  async function accept(page: Page): Promise<void> {
    await tapAndType(page, page.getByLabel('What you looked at yourself'), 'The tub with a lamp, the brake, the door.');
    await button(page, 'Accept with PIN').click();
    await typePin(page, PIN);
    await page.getByText(`It is accepted by ${INCOMING}.`).waitFor();
    await expect.poll(() => step(page)).toContain(`3 Accepted ${INCOMING}`);
  }

  /** By file, with the taps that it takes on both. */
  async function carry(from: Page, to: Page): Promise<void> {
    for (const page of [from, to]) {
      await place(page, 'Setup').click();
      await page.getByRole('link', { name: 'Tablets', exact: true }).click();
    }
    const path = await files.saved(from, 'Save a file');
    const chooser = to.waitForEvent('filechooser');
    await to.locator('label.file-button').first().click();
    await (await chooser).setFiles(path);
    await files.takeIn(to);
  }

  const title = async (page: Page): Promise<string> => page.locator('.title-person').innerText();

  it('has a second tablet of the incoming lead, and no network from here on', async () => {
    await become(a, OUTGOING);
    await files.join(a, b, 'Lift tablet');
    await files.admit(a, b, 'Lift tablet', INCOMING, PIN);
    await become(b, INCOMING);
    await waitUntilOffline(a);
    await waitUntilOffline(b);
    await server.kill();
    await go(a, '/');
    await go(b, '/');
  });

  it('on one tablet: prepared, talked through, accepted, in at most thirty taps', async () => {
    const taps = await countTaps(a);
    await prepare(a);
    await talk(a);
    await accept(a);
    const count = await taps();
    console.log(`one tablet: ${count} taps`);
    expect(count).toBeLessThanOrEqual(TAPS);
    expect(count).toBeGreaterThan(14);
    // Whoever took the shift has the tablet.
    await expect.poll(() => title(a)).toContain(INCOMING);
    await go(a, '/');
    await a.getByRole('heading', { name: 'Recorded last' }).waitFor();
    await expect.poll(() => a.locator('main a[href^="/handover/"]').count()).toBe(0);
  });

  it('on two tablets: prepared on one, carried by a file, accepted on the other, in at most thirty taps', async () => {
    await become(a, OUTGOING);
    await go(a, '/');
    await go(b, '/');
    const taps = await countTaps(a, b);
    await prepare(a);
    await carry(a, b);
    await place(b, 'Now').click();
    await b
      .locator('main')
      .getByRole('link', { name: `Prepared by ${OUTGOING}, not accepted` })
      .click();
    await talk(b);
    await accept(b);
    const count = (await taps()) + TAPS_IN_FILE_DIALOG;
    console.log(`two tablets: ${count} taps`);
    expect(count).toBeLessThanOrEqual(TAPS);
    expect(count).toBeGreaterThan(24);
    await files.carry(b, a);
    await go(a, '/');
    await a.getByRole('heading', { name: 'Recorded last' }).waitFor();
    await expect.poll(() => a.locator('main a[href^="/handover/"]').count()).toBe(0);
    await go(a, '/handover');
    await a.locator('.ho-earlier').getByText(`accepted by ${INCOMING}`).first().waitFor();
  });

  it('refused in an item, it comes back, stays on Now, and the item stands in the next with its reason', async () => {
    await prepare(a);
    await files.carry(a, b);
    await go(b, '/handover');
    await talk(b, ['People, permits, isolations']);
    await button(b, 'Refuse with PIN').click();
    await typePin(b, PIN);
    await b.getByText(`It is refused by ${INCOMING} in 1 item.`).waitFor();
    await files.carry(b, a);
    await go(a, '/');
    const line = a.getByRole('region', { name: 'Handover' }).getByRole('link', { name: `Refused by ${INCOMING}` });
    await expect.poll(() => line.innerText()).toContain(REASON);
    await line.click();
    await button(a, 'Mend it and prepare again').click();
    const people = a.locator('.ho-items > li').filter({ hasText: 'People, permits, isolations' });
    await people.getByText(`Refused before: ${REASON}`).waitFor();
    await people
      .getByLabel('What was done about the refusal')
      .fill('The key box hangs in the office, Hanna has the key.');
    // What the same lead answered before stands there, to be looked through.
    await expect.poll(() => people.getByLabel('Isolations on').inputValue()).toMatch(/^Answer \d+$/);
    await button(a, 'Hand over with PIN').click();
    await typePin(a, PIN);
    await talk(a);
    await accept(a);
    await go(a, '/handover');
    await button(a, 'Hand over with PIN').waitFor();
    expect(await a.locator('main').innerText()).not.toContain(REASON);
    expect([...first.problems, ...second.problems]).toEqual([]);
  });
});
