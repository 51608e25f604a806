import type { Locator, Page } from 'playwright-core';

/** Steps that people take, by the words that they see. */

/** From the first run into the practice casting. */
export async function openPractice(page: Page): Promise<void> {
  await page.getByRole('button', { name: /practice casting/i }).click();
  await page.getByRole('heading', { level: 1, name: 'Now' }).waitFor({ timeout: 60_000 });
}

/** Types a PIN on the pad that is open, and confirms. */
export async function typePin(page: Page, pin: string): Promise<void> {
  const field = page.locator('.pin-field');
  await field.waitFor();
  await page.keyboard.type(pin);
  await page.keyboard.press('Enter');
}

/** Chooses a new PIN: the same digits twice. */
export async function choosePin(page: Page, pin: string): Promise<void> {
  await typePin(page, pin);
  await page.getByRole('heading', { name: 'The same PIN again' }).waitFor();
  await typePin(page, pin);
}

/** From the first run to a casting of one's own, with the design as it stands. */
export async function startCasting(page: Page, founder: string, pin: string): Promise<void> {
  await page.getByRole('link', { name: 'Start a casting' }).click();
  await page.getByRole('button', { name: 'Go on with this blank' }).click();
  await page.getByLabel('Name of the casting').fill('Test blank');
  await page.getByLabel('Name of this tablet').fill('T1');
  await page.getByLabel('Your name').fill(founder);
  await page.getByRole('checkbox', { name: /crew lead/ }).check();
  await page.getByRole('button', { name: 'Choose a PIN' }).click();
  await choosePin(page, pin);
  await page.getByRole('button', { name: 'Start the casting' }).click();
  await page.getByRole('heading', { name: 'Fingerprint of the casting' }).waitFor({ timeout: 30_000 });
}

/** A keeper admits a person, who types a PIN. */
export async function admit(
  page: Page,
  name: string,
  roles: readonly RegExp[],
  pin: string,
  keeperPin: string,
): Promise<void> {
  await go(page, '/setup?part=people');
  await page
    .getByRole('button', { name: /^Admit/ })
    .first()
    .click();
  await page.getByLabel(/^Name, as it is printed/).fill(name);
  for (const role of roles) await page.getByRole('checkbox', { name: role }).check();
  await page.getByRole('button', { name: /types a PIN/ }).click();
  await choosePin(page, pin);
  // The keeper's key is open after the first time.
  await Promise.race([
    page
      .getByRole('heading', { name: `Admit ${name}` })
      .waitFor()
      .then(() => typePin(page, keeperPin)),
    page.getByText(`${name} is admitted.`).waitFor(),
  ]);
  await page.getByText(`${name} is admitted.`).waitFor();
}

/** Goes to a place of the app by its address; the worker serves it. */
export async function go(page: Page, path: string): Promise<void> {
  await page.goto(new URL(path, page.url()).href);
  await page.locator('h1').waitFor();
}

/** Hands the tablet to a person. */
export async function become(page: Page, name: string): Promise<void> {
  await page.locator('button.title-clock').click();
  await page.locator('dialog[open]').getByText(name, { exact: true }).click();
  await page.locator('dialog[open]').waitFor({ state: 'detached' });
}

/** Fills a whole check sheet with yes and calls the operation finished, whatever else is missing. */
export async function finishOperation(page: Page, operation: string): Promise<void> {
  await go(page, `/sequence/${operation}`);
  const items = page.getByRole('radio', { name: 'yes' });
  await items.first().waitFor();
  const count = await items.count();
  for (let i = 0; i < count; i++) await items.nth(i).check({ force: true });
  await page.getByRole('button', { name: `Save ${count} answers` }).click();
  await page.getByRole('button', { name: 'Operation finished' }).click();
  const asked = page.getByRole('button', { name: 'Record as finished' });
  await Promise.race([
    asked.waitFor().then(() => asked.click()),
    page.getByText('Finished', { exact: true }).waitFor(),
  ]);
  await page.getByText('Finished', { exact: true }).first().waitFor();
}

/** The big field of the station that is being read. */
export const readingField = (page: Page): Locator => page.getByLabel(/^Reading at /);

/** Types readings one after the other, Enter after each; the tablet moves on by itself. */
export async function typeReadings(page: Page, readings: readonly { station: string; text: string }[]): Promise<void> {
  for (const { station, text } of readings) {
    await page.getByLabel(`Reading at ${station}`).waitFor();
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  }
}
