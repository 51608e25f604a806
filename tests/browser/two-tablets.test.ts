import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CarriedFiles } from './by-file.ts';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { become, go, openPractice, readingField, typePin } from './steps.ts';

/** The practice crew, all with the PIN that the practice casting names. */
const PIN = '1234';
const KEEPER = 'Hanna Vik';
const ENGINEER = 'Edda Lorn';
const QUALITY = 'Milo Quist';
const HOLD = '/hold/H02';

describe('two tablets that exchange by file', () => {
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
  afterAll(async () => {
    await first.discard();
    await second.discard();
    await server.kill();
    files.discard();
  });

  const dialog = (page: Page) => page.locator('dialog[open]');

  const carry = (from: Page, to: Page): Promise<string> => files.carry(from, to);

  async function sign(page: Page, name: string): Promise<void> {
    await page.getByRole('button', { name: /^Sign( again)?$/ }).click();
    await dialog(page)
      .getByText(new RegExp(`^${name}`))
      .first()
      .click();
    await page.getByRole('button', { name: /^Sign with PIN/ }).click();
    await typePin(page, PIN);
    await page.locator('.hold-places').getByText(`${name},`).waitFor();
  }

  const reasons = async (page: Page): Promise<string[]> => {
    await go(page, HOLD);
    await page.getByText('Why it is in doubt').waitFor();
    return page.locator('.hold-list ol').first().locator('li').allInnerTexts();
  };

  it('lets the second join: fingerprint compared, key made, request admitted by a keeper, file taken back in', async () => {
    await become(a, KEEPER);
    const shown = await files.join(a, b, 'Lift tablet');
    expect(await b.locator('main').innerText()).toContain('is kept and counts as no evidence');
    await go(a, '/setup?part=tablet');
    expect(await a.locator('.fingerprint').innerText()).toBe(shown);
    await files.admit(a, b, 'Lift tablet', ENGINEER, PIN);
  });

  it('puts a release in doubt on both, for the same reason, when the other had struck a reading before', async () => {
    await become(b, ENGINEER);
    await go(b, '/record');
    await b.getByLabel('Kind').selectOption('reading');
    await b.getByLabel('Search').fill('gaps in the data');
    await b.locator('main a[href^="/record/"]').first().click();
    await b.getByRole('button', { name: 'Strike it out' }).click();
    await dialog(b).getByRole('button', { name: 'Strike it out' }).click();
    await typePin(b, PIN);
    await b.getByText(/^Struck by/).waitFor();

    await go(a, HOLD);
    for (const name of [QUALITY, ENGINEER]) await sign(a, name);
    await a.locator('.hold-gate').getByText('released').first().waitFor();
    expect((await a.locator('.hold-gate').innerText()).replace(/\s+/g, ' ')).toMatch(
      /from what 2 of 3 admitted tablets had written by/,
    );

    const said = await carry(b, a);
    expect(said).toContain('H02');
    expect(said).toContain('would fall into doubt');
    await carry(a, b);
    const onA = await reasons(a);
    expect(onA.join(' ')).toContain(`Struck by ${ENGINEER}, on Lift tablet, not seen when it was signed`);
    expect(await reasons(b)).toEqual(onA);
  });

  it('is released on both after it was measured and signed again with the new evidence', async () => {
    await go(a, HOLD);
    await a.locator('#missing').getByRole('link', { name: 'Measure' }).click();
    await readingField(a).waitFor();
    await readingField(a).focus();
    await a.keyboard.type('0');
    await a.keyboard.press('Enter');
    await expect.poll(() => readingField(a).count()).toBe(0);
    await go(a, HOLD);
    for (const name of [QUALITY, ENGINEER]) await sign(a, name);
    await carry(a, b);
    for (const page of [a, b]) {
      await go(page, HOLD);
      await page.locator('.hold-gate').getByText('released').first().waitFor();
    }
  });

  it('stays released on both when the other measures again knowing the release', async () => {
    await go(b, '/survey/3.3/data-gaps?station=one');
    await b.getByRole('button', { name: 'Measure again' }).click();
    await readingField(b).waitFor();
    await readingField(b).focus();
    await b.keyboard.type('1');
    await b.keyboard.press('Enter');
    await expect.poll(() => readingField(b).count()).toBe(0);
    const said = await carry(b, a);
    expect(said).not.toContain('would fall into doubt');
    await go(a, HOLD);
    await a.locator('.hold-gate').getByText('released').first().waitFor();
    expect([...first.problems, ...second.problems]).toEqual([]);
  });
});
