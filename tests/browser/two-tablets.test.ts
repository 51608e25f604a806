import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { become, go, openPractice, readingField, typePin } from './steps.ts';

/** The practice crew, all with the PIN that the practice casting names. */
const PIN = '1234';
const KEEPER = 'Hanna Vik';
const ENGINEER = 'Edda Lorn';
const QUALITY = 'Milo Quist';
const HOLD = '/hold/H02';
const TABLETS = '/setup?part=tablets';

describe('two tablets that exchange by file', () => {
  const [first, second] = [new TestTabletBrowser(), new TestTabletBrowser()];
  const folder = mkdtempSync(join(tmpdir(), 'lehrbook-files-'));
  let server: TestServer;
  let a: Page;
  let b: Page;
  let files = 0;

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
    rmSync(folder, { recursive: true, force: true });
  });

  const dialog = (page: Page) => page.locator('dialog[open]');

  /** Presses what saves a file, and gives the path where it lies. */
  async function saved(page: Page, button: string | RegExp): Promise<string> {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: button }).click(),
    ]);
    files += 1;
    const path = join(folder, `${files}-${download.suggestedFilename()}`);
    await download.saveAs(path);
    return path;
  }

  const open = (page: Page, path: string): Promise<void> => page.locator('input[type=file]').setInputFiles(path);

  /** Carries everything from one tablet to another. @returns what the preview said. */
  async function carry(from: Page, to: Page): Promise<string> {
    await go(from, TABLETS);
    const path = await saved(from, 'Save a file');
    await go(to, TABLETS);
    await open(to, path);
    const take = to.getByRole('button', { name: /^Take in \d+/ });
    await take.waitFor({ timeout: 60_000 });
    const words = (await to.locator('main').innerText()).replace(/\s+/g, ' ');
    await take.click();
    await to.getByText(/entr(y|ies) taken in\./).waitFor({ timeout: 60_000 });
    return words;
  }

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
    await go(a, TABLETS);
    const casting = await saved(a, 'Save a file');
    await b.getByRole('link', { name: 'Join a casting by a file' }).click();
    await open(b, casting);
    await b.getByRole('heading', { name: 'Compare the fingerprint' }).waitFor({ timeout: 60_000 });
    const shown = await b.locator('.fingerprint').innerText();
    await b.getByLabel(/^Name of this tablet/).fill('Lift tablet');
    await b.getByRole('button', { name: 'All eight are the same: join' }).click();
    await b.getByRole('heading', { name: 'This tablet is not admitted yet' }).waitFor({ timeout: 60_000 });
    expect(await b.locator('main').innerText()).toContain('is kept and counts as no evidence');
    await b.getByLabel('Who else will sign on this tablet').selectOption({ label: ENGINEER });
    await b.getByRole('button', { name: `${ENGINEER} types a PIN` }).click();
    await typePin(b, PIN);
    await b.getByRole('heading', { name: 'The same PIN again' }).waitFor();
    await typePin(b, PIN);
    await b.getByRole('definition').filter({ hasText: ENGINEER }).waitFor();
    const request = await saved(b, 'Save the request');

    await go(a, '/setup?part=tablet');
    expect(await a.locator('.fingerprint').innerText()).toBe(shown);
    await go(a, TABLETS);
    await open(a, request);
    await a.getByRole('button', { name: 'They are the same: admit it' }).click();
    await typePin(a, PIN);
    await a.getByText('Lift tablet is admitted.').waitFor();
    const admitting = await saved(a, 'Save the file for it');
    await go(b, TABLETS);
    await open(b, admitting);
    await b.getByRole('button', { name: 'Take in 2 entries' }).click();
    await b.getByRole('heading', { name: 'Exchange by file' }).waitFor();
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
