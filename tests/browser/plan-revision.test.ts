import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CarriedFiles } from './by-file.ts';
import { TestServer, TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { become, go, openPractice, typePin } from './steps.ts';

/** The practice crew, all with the PIN that the practice casting names. */
const PIN = '1234';
const KEEPER = 'Hanna Vik';
const ENGINEER = 'Edda Lorn';
const DIAMETER = 'characteristics/tub-diameter-20';
const REASON = 'The liner was ordered 0.4 mm thicker.';

/** A page that was loaded anew reads the log first, and a busy machine takes its time. */
const PATIENCE_MS = 60_000;

describe('plan revisions, with the server ended', () => {
  const [first, second] = [new TestTabletBrowser(), new TestTabletBrowser()];
  const files = new CarriedFiles();
  let server: TestServer;
  let a: Page;
  let b: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    a = await first.open();
    b = await second.open();
    for (const page of [a, b]) page.setDefaultTimeout(PATIENCE_MS);
    await a.goto(server.address);
    await b.goto(server.address);
    await openPractice(a);
    await waitUntilOffline(a);
    await waitUntilOffline(b);
    await server.kill();
  });
  afterAll(async () => {
    await first.discard();
    await second.discard();
    await server.kill();
    files.discard();
  });

  const main = async (page: Page): Promise<string> => (await page.locator('main').innerText()).replace(/\s+/g, ' ');
  const says = (page: Page, words: string | RegExp) =>
    expect.poll(() => main(page), { timeout: PATIENCE_MS }).toMatch(words);
  const look = (page: Page) => page.getByRole('button', { name: 'See what it would do' }).click();

  async function sign(page: Page, revision: number): Promise<void> {
    await page.getByText(/^(No released hold point|Released, and would fail)/).waitFor();
    await page.getByRole('button', { name: 'Sign with PIN' }).click();
    await typePin(page, PIN);
    await page.getByText(`Saved: revision ${revision} is signed.`).waitFor();
  }

  /** Sets the upper limit of the tub's diameter, and the hours of an operation. */
  async function revise(page: Page, upper: string, hours: { operation: string; to: string }): Promise<void> {
    await go(page, '/plan/change');
    await page.getByLabel('Characteristic').selectOption(DIAMETER);
    await page.getByLabel('Upper limit').fill(upper);
    await page.getByText('Hours', { exact: true }).click();
    await page.getByLabel('Operation').selectOption(`operations/${hours.operation}`);
    await page.getByLabel('Planned working hours').fill(hours.to);
    await page.getByLabel('Reason for the revision').fill(`Made for ${hours.operation}.`);
    await look(page);
  }

  it('keep what was typed, whatever is wrong with it, and say what is missing', async () => {
    await go(a, '/sequence');
    await a.getByRole('link', { name: 'Plan revision 1' }).click();
    await a.getByRole('link', { name: 'Make a revision' }).click();
    await look(a);
    await a.getByRole('alert').getByText('Nothing is changed yet.').waitFor();
    await a.getByLabel('Characteristic').selectOption(DIAMETER);
    await a.getByLabel('Upper limit').fill('3215');
    await says(a, 'The lower limit lies above the upper one.');
    await look(a);
    await a.getByRole('alert').waitFor();
    await a.getByLabel('Upper limit').fill('3217,5');
    await look(a);
    await a.getByRole('alert').getByText('A revision needs its reason.').waitFor();
    await a.getByLabel('Reason for the revision').fill(REASON);
    await says(a, '3218.86 mm becomes → 3217.5 mm');
    // It is there again after another screen was looked at.
    await go(a, '/setup');
    await a.getByRole('link', { name: 'Plan', exact: true }).click();
    await a.getByRole('link', { name: 'Make a revision' }).click();
    await says(a, '3218.86 mm becomes → 3217.5 mm');
    await expect.poll(() => a.getByLabel('Reason for the revision').inputValue()).toBe(REASON);
  });

  it('say before the signature which released hold point they would fail and which open work they judge anew', async () => {
    await look(a);
    await a.getByText('Released, and would fail by it: H01').waitFor();
    const failing = a.locator('section.sheet', { hasText: 'Released hold points that would fail' });
    const words = (await failing.innerText()).replace(/\s+/g, ' ');
    expect(words).toContain('released under revision 1');
    expect(words).toMatch(/Tub, inner diameter at 20 °C, operation 2\.4: \d+ within, \d+ not proven/);
    expect(words).toMatch(/3.215\.86 to 3.217\.50 mm/);
    const open = a.locator('section.sheet', { hasText: 'Open work judged anew' });
    expect((await open.innerText()).replace(/\s+/g, ' ')).toMatch(/operation 5\.1 .*within becomes → outside/);
  });

  it('come into force with the signature of the process engineer; the release keeps its own, open work takes the new', async () => {
    await sign(a, 2);
    await says(a, 'Revision 2 is in force');
    await says(a, /Released under an earlier revision .*H01 Tub as built released under revision 1/);
    await go(a, '/hold/H01');
    await says(a, 'Under plan revision 1, which goes on judging what was released.');
    await expect.poll(() => a.locator('.hold-gate').innerText()).toContain('released');
    await expect.poll(() => main(a)).toContain('36/36');
    await go(a, '/survey/5.1/tub-diameter-20?station=37.5%40200');
    await says(a, 'The limits have changed since it was read: it was within');
  });

  it('are in the record in words, and leave the old revision to be read', async () => {
    await go(a, '/record');
    await a.getByLabel('Kind').selectOption('plan');
    await says(a, 'upper limit: 3218.86 mm → 3217.5 mm; and 1 more');
    await a
      .getByRole('link', { name: /revision 2/ })
      .first()
      .click();
    await says(a, 'What it changes in revision 1');
    await says(a, '3218.86 mm becomes → 3217.5 mm');
    await a.locator('main').getByRole('link', { name: '1', exact: true }).click();
    await a.getByRole('heading', { level: 1, name: 'Plan revision 1' }).waitFor();
    await a.getByRole('button', { name: /^Show all/ }).click();
    await says(a, /Tub, inner diameter at 20 °C .*Upper limit 3.218\.86/);
    await says(a, 'was in force until revision 2');
  });

  it('made on two tablets from one parent leave it in force on both until one joins them', async () => {
    await become(a, KEEPER);
    await files.join(a, b, 'Office tablet');
    await files.admit(a, b, 'Office tablet', ENGINEER, PIN);
    await revise(a, '3217.9', { operation: '6.1', to: '30' });
    await sign(a, 3);
    await become(b, ENGINEER);
    await revise(b, '3217.8', { operation: '6.2', to: '40' });
    await sign(b, 3);
    await files.carry(b, a);
    await files.carry(a, b);
    for (const page of [a, b]) {
      await go(page, '/plan');
      await says(page, 'Two children of one parent');
      await says(page, 'Revision 2 is in force');
      await says(page, /6\.1, .*becomes → 30 h/);
      await says(page, /6\.2, .*becomes → 40 h/);
    }
    await a.getByRole('link', { name: 'Join the revisions' }).click();
    await a.getByLabel('Reason for the revision').fill('Both are wanted; the closer limit holds.');
    await look(a);
    await a.getByRole('alert').getByText('Choose which revision is followed where they differ.').waitFor();
    for (const list of await a.locator('fieldset.choices').all())
      await list
        .getByText(/3217\.8 mm|set by hand/)
        .first()
        .click();
    await look(a);
    await sign(a, 4);
    await files.carry(a, b);
    for (const page of [a, b]) {
      await go(page, '/plan');
      await says(page, 'Revision 4 is in force');
      expect(await main(page)).not.toContain('Two children');
    }
    await b.getByRole('link', { name: 'Read the plan' }).click();
    await b.getByRole('button', { name: /^Show all/ }).click();
    await says(b, /Tub, inner diameter at 20 °C .*Upper limit 3.217\.8/);
    expect([...first.problems, ...second.problems]).toEqual([]);
  });
});
