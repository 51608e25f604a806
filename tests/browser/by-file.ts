import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { go, typePin } from './steps.ts';

export const TABLETS = '/setup?part=tablets';

/** Files that people carry from one tablet to another. */
export class CarriedFiles {
  private readonly folder = mkdtempSync(join(tmpdir(), 'lehrbook-files-'));
  private count = 0;

  discard(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }

  /** Presses what saves a file, and gives the path where it lies. */
  async saved(page: Page, button: string | RegExp): Promise<string> {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: button }).click(),
    ]);
    this.count += 1;
    const path = join(this.folder, `${this.count}-${download.suggestedFilename()}`);
    await download.saveAs(path);
    return path;
  }

  /** Carries everything from one tablet to another. @returns what the preview said. */
  async carry(from: Page, to: Page): Promise<string> {
    await go(from, TABLETS);
    const path = await this.saved(from, 'Save a file');
    await go(to, TABLETS);
    await openFile(to, path);
    return this.takeIn(to);
  }

  /** Takes in the file that is open. @returns what the preview said. */
  async takeIn(to: Page): Promise<string> {
    const take = to.getByRole('button', { name: /^Take in \d+/ });
    await take.waitFor({ timeout: 60_000 });
    const words = (await to.locator('main').innerText()).replace(/\s+/g, ' ');
    await take.click();
    await to.getByText(/entr(y|ies) taken in\./).waitFor({ timeout: 60_000 });
    return words;
  }

  /** An empty tablet opens a file of a casting and compares the fingerprint; `name` is what it is called. */
  async join(a: Page, b: Page, name: string): Promise<string> {
    await go(a, TABLETS);
    return this.joinFrom(await this.saved(a, 'Save a file'), b, name);
  }

  /** The same, with a file that lies at a path. @returns the fingerprint that was compared. */
  async joinFrom(casting: string, b: Page, name: string): Promise<string> {
    await b.getByRole('link', { name: 'Join a casting that others have begun' }).click();
    await openFile(b, casting);
    await b.getByRole('heading', { name: 'Compare the fingerprint' }).waitFor({ timeout: 60_000 });
    const shown = await b.locator('.fingerprint').innerText();
    await b.getByLabel(/^Name of this tablet/).fill(name);
    await b.getByRole('button', { name: 'All eight are the same: join' }).click();
    await b.getByRole('heading', { name: 'This tablet is not admitted yet' }).waitFor({ timeout: 60_000 });
    return shown;
  }

  /** A file of somebody's own making. @returns its path. */
  written(text: string): string {
    this.count += 1;
    const path = join(this.folder, `${this.count}-from-elsewhere`);
    writeFileSync(path, text);
    return path;
  }

  /** People make keys on a tablet that asks to be admitted. @returns the path of its request. */
  async request(page: Page, people: readonly string[], pin: string): Promise<string> {
    for (const who of people) {
      await page.getByLabel('Who else will sign on this tablet').selectOption({ label: who });
      await page.getByRole('button', { name: `${who} types a PIN` }).click();
      await typePin(page, pin);
      await page.getByRole('heading', { name: 'The same PIN again' }).waitFor();
      await typePin(page, pin);
      await page.getByRole('definition').filter({ hasText: who }).waitFor();
    }
    return this.saved(page, 'Save the request');
  }

  /** One more person makes a key on the joining tablet; the keeper at the first admits both. All PINs are the same. */
  async admit(a: Page, b: Page, name: string, who: string, pin: string): Promise<void> {
    const request = await this.request(b, [who], pin);
    await go(a, TABLETS);
    await openFile(a, request);
    await a.getByRole('button', { name: 'They are the same: admit it' }).click();
    await typePin(a, pin);
    await a.getByText(`${name} is admitted.`).waitFor();
    const admitting = await this.saved(a, 'Save the file for it');
    await go(b, TABLETS);
    await openFile(b, admitting);
    await b.getByRole('button', { name: 'Take in 2 entries' }).click();
    await b.getByRole('heading', { name: 'Exchange by file' }).waitFor();
  }
}

export const openFile = (page: Page, path: string): Promise<void> =>
  page.locator('input[type=file]').setInputFiles(path);
