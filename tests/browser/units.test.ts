import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { become, go, openPractice, readingField } from './steps.ts';
import { at20, nominalDiameter, PART_C, SCALE_C, TOLERANCE_MM } from './tub-survey.ts';

/** NIST SP 811 (2008), B.8: the inch is 25.4 mm, a kelvin 1.8 °F, 0 °C is 32 °F; all exact. */
const inInches = (mm: number): string => (mm / 25.4).toFixed(4);
const inF = (celsius: number): string => (celsius * 1.8 + 32).toFixed(2);

/** Two people of the practice casting; it opens with the first at the tablet. */
const IN_INCHES = 'Joel Kast';
const IN_MM = 'Priya Noor';

const SURVEY = '/survey/5.1/tub-diameter-20';
const STATION = '97.5° at 380 mm';
const HERE = `${SURVEY}?station=${encodeURIComponent('97.5@380')}`;
const TYPED = '126.6810';

describe('units by person', () => {
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
      await page.screenshot({ path: `${process.env.SHOTS}/failed-units.png` });
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  const plain = (text: string): string => text.replace(/[\s\u202f]+/g, '');
  const words = async (selector: string): Promise<string> => plain(await page.locator(selector).innerText());

  it('says whose units they are, and changes theirs', async () => {
    await go(page, '/setup?part=looks');
    await page.getByRole('heading', { name: `Units of ${IN_INCHES}` }).waitFor();
    await page.getByRole('radio', { name: 'inches' }).check({ force: true });
    await page.getByRole('radio', { name: '°F' }).check({ force: true });
    await become(page, IN_MM);
    await page.getByRole('heading', { name: `Units of ${IN_MM}` }).waitFor();
    await expect.poll(() => page.getByRole('radio', { name: 'mm', exact: true }).isChecked()).toBe(true);
    await become(page, IN_INCHES);
    await expect.poll(() => page.getByRole('radio', { name: 'inches' }).isChecked()).toBe(true);
  });

  it('types and shows a survey in inches and °F', async () => {
    await go(page, HERE);
    await page.getByLabel('Tub temperature').fill(inF(PART_C));
    await page.getByLabel('Scale temperature').fill(inF(SCALE_C));
    await page.getByLabel(`Reading at ${STATION}, in`).fill(TYPED);
    const nominal = Number(nominalDiameter().toFixed(2));
    const value = at20(String(Number(TYPED) * 25.4));
    await expect.poll(() => words('.entry-sheet')).toContain(`+${inInches(value - nominal)}`);
    const shown = await words('.entry-sheet');
    for (const figure of [value, nominal, nominal - TOLERANCE_MM, nominal + TOLERANCE_MM])
      expect(shown).toContain(inInches(figure));
    expect(shown).toContain('Insidethelimitby');
    const working = await words('.working-sheet');
    expect(working).toContain('Theworkingisinmmand°C');
    expect(working).toContain(plain(String(Number((Number(TYPED) * 25.4).toFixed(4)))));
    expect(await words('.wall-sheet')).toContain(`from${inInches(nominal)}in`);
  });

  it('takes a temperature put in the place of a kept one in the units of now', async () => {
    await become(page, IN_MM);
    const tub = page.locator('[data-target="part"]');
    await expect.poll(() => tub.innerText()).toContain('°F');
    await tub.locator('input').fill(PART_C.toFixed(1));
    await expect.poll(() => tub.innerText()).toContain('°C');
  });

  it('keeps the unit of a reading that another person goes on with, and says what it is in theirs', async () => {
    await expect.poll(() => words('.entry-sheet')).toContain(at20(String(Number(TYPED) * 25.4)).toFixed(2));
    await expect.poll(() => page.locator('.reading-field .u').innerText()).toBe('in');
    await readingField(page).press('Enter');
    await expect.poll(() => words('.entry-sheet')).toContain('Saved:');
  });

  it('keeps in the log what was typed with its unit, beside the value in mm', async () => {
    await go(page, HERE);
    const value = at20(String(Number(TYPED) * 25.4));
    const history = await words('.history');
    expect(history).toContain(`${value.toFixed(2)}mm`);
    expect(history).toContain(`typed${TYPED}in`);
    await become(page, IN_INCHES);
    await expect.poll(() => words('.history')).toContain(`${inInches(value)}in`);
  });

  it('draws every figure with the decimal mark of the tablet', async () => {
    await go(page, '/setup?part=looks');
    await page.getByRole('radio', { name: /^Comma/ }).check({ force: true });
    await go(page, HERE);
    const value = at20(String(Number(TYPED) * 25.4));
    await expect.poll(() => words('.entry-sheet')).toContain(inInches(value).replace('.', ','));
    expect(tablet.problems).toEqual([]);
  });
});
