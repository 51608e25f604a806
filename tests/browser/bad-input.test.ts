import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { go, openPractice, readingField, typePin } from './steps.ts';

const SURVEY = '/survey/5.1/tub-diameter-20';

describe('bad input on the survey', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
    await go(page, SURVEY);
    await page.getByLabel('Tub temperature').fill('24.3');
    await page.getByLabel('Scale temperature').fill('22.8');
  });
  afterEach(async ({ task }) => {
    if (task.result?.state === 'fail' && process.env.SHOTS)
      await page.screenshot({ path: `${process.env.SHOTS}/failed.png` });
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  const entries = async (): Promise<number> => Number(/(\d+) of 36/.exec(await page.locator('main').innerText())![1]);
  const said = (): Promise<string> => page.locator('.entry-sheet').innerText();

  for (const [what, text, message] of [
    ['letters', '32l7.4', 'is not a figure'],
    ['two separators', '3.217,40', 'two decimal marks'],
    ['a figure beyond all bounds', '1e999', 'Write it out in digits'],
    ['nothing', '', 'Nothing is typed yet'],
    ['a negative length', '-3217.4', 'never negative'],
  ] as const) {
    it(`refuses ${what} in words, keeps the text, writes nothing`, async () => {
      const before = await entries();
      await readingField(page).fill(text);
      await page.keyboard.press('Enter');
      await expect.poll(said).toContain(message);
      expect((await readingField(page).inputValue()).replace(/[\s\u202f]/g, '')).toBe(
        text.replace('-', (await readingField(page).inputValue()).includes('−') ? '−' : '-'),
      );
      expect(await entries()).toBe(before);
    });
  }

  it('refuses a temperature below absolute zero, in words, and keeps it', async () => {
    const before = await entries();
    await page.getByLabel('Tub temperature').fill('-300');
    await readingField(page).fill('3217.60');
    await page.keyboard.press('Enter');
    await expect.poll(said).toContain('below absolute zero');
    expect(await page.getByLabel('Tub temperature').inputValue()).toBe('-300');
    expect(await entries()).toBe(before);
    await page.getByLabel('Tub temperature').fill('24.3');
  });

  it('asks once about an unlikely temperature, at its own field or at the reading, and keeps the text', async () => {
    const before = await entries();
    const tub = page.getByLabel('Tub temperature');
    await tub.fill('75.74');
    await tub.press('Enter');
    await expect.poll(said).toContain('outside 5 to 45 °C');
    expect(await tub.inputValue()).toBe('75.74');
    await tub.press('Enter');
    await expect.poll(said).toContain('K apart');
    await tub.fill('3.1');
    await readingField(page).fill('3217.60');
    await page.keyboard.press('Enter');
    await expect.poll(said).toContain('Tub 3.1 °C: outside 5 to 45 °C');
    expect(await entries()).toBe(before);
    await tub.fill('24.3');
    await readingField(page).fill('');
  });

  it('asks once about an unlikely figure, keeps it on the second Enter', async () => {
    const before = await entries();
    await readingField(page).fill('3712.36');
    await page.keyboard.press('Enter');
    await expect.poll(said).toMatch(/Enter again/);
    expect(await entries()).toBe(before);
    await readingField(page).fill('3217.66');
    await page.keyboard.press('Enter');
    await expect.poll(entries).toBe(before + 1);
  });

  it('takes a decimal comma', async () => {
    const before = await entries();
    await readingField(page).fill('3217,52');
    await page.keyboard.press('Enter');
    await expect.poll(entries).toBe(before + 1);
  });

  it('keeps what was typed over a reload', async () => {
    await readingField(page).fill('3217.4');
    await page.waitForTimeout(400);
    await page.reload();
    await readingField(page).waitFor();
    await expect.poll(async () => (await readingField(page).inputValue()).replace(/[\s\u202f]/g, '')).toBe('3217.4');
    await expect.poll(() => page.getByLabel('Tub temperature').inputValue()).toBe('24.3');
    await readingField(page).fill('');
  });

  it('refuses a date in the future on paper, and keeps it', async () => {
    await page.getByRole('button', { name: /Instrument, observer and paper/ }).click();
    await page.getByText('Typed from paper').click();
    await page.getByLabel('Date on the paper').fill('2099-01-01');
    await page.getByLabel('Time on the paper').fill('04:00');
    await expect.poll(() => page.locator('dialog[open]').innerText()).toContain('has not come yet');
    await page.getByRole('button', { name: 'Done' }).click();
    const before = await entries();
    await readingField(page).fill('3217.60');
    await page.keyboard.press('Enter');
    await expect.poll(said).toContain('has not come yet');
    expect(await entries()).toBe(before);
    await page.getByRole('button', { name: 'Change date and time' }).click();
    await expect.poll(() => page.getByLabel('Date on the paper').inputValue()).toBe('2099-01-01');
    await page.getByText('Typed from paper').click();
    await page.getByRole('button', { name: 'Done' }).click();
  });

  it('keeps a reading with an instrument out of calibration, and flags it', async () => {
    await registerOutOfDate();
    await go(page, SURVEY);
    await page.getByRole('button', { name: /Instrument, observer and paper/ }).click();
    await page.getByRole('radio', { name: /RA-9/ }).check({ force: true });
    await expect.poll(() => page.locator('dialog[open]').innerText()).toContain('count for no hold point');
    await page.getByRole('button', { name: 'Done' }).click();
    const before = await entries();
    await readingField(page).fill('3217.58');
    await page.keyboard.press('Enter');
    await expect.poll(entries).toBe(before + 1);
    await go(page, '/findings');
    await page
      .getByText(/RA-9 was out of calibration/)
      .first()
      .waitFor();
  });

  it('lets a station be measured twice only as a re-measure or a correction, in one step', async () => {
    await go(page, `${SURVEY}?station=${encodeURIComponent('7.5@40')}`);
    await page.getByRole('button', { name: 'Correct' }).click();
    await readingField(page).fill('3217.90');
    await page.keyboard.press('Enter');
    await typePin(page, '1234');
    const history = page.getByRole('list', { name: 'Readings at this station' });
    await expect.poll(async () => (await history.innerText()).includes('mistyped')).toBe(true);
    expect(await history.locator('.struck').count()).toBeGreaterThan(0);
  });

  it('broke nothing: the chains verify', async () => {
    await go(page, '/record');
    await page.getByRole('button', { name: 'Prove the chains' }).click();
    await page.getByText('The chains are whole.').waitFor();
    expect(tablet.problems).toEqual([]);
  });

  async function registerOutOfDate(): Promise<void> {
    await go(page, '/setup?part=instruments');
    await page
      .getByRole('button', { name: /Add an instrument/ })
      .first()
      .click();
    await page.getByLabel('Number on the instrument').fill('RA-9');
    await page.getByLabel(/^Kind/).selectOption('RA');
    await page.getByLabel('Standard uncertainty').fill('0.12');
    await page.getByLabel('Calibrated on').fill('2020-01-01');
    await page.getByLabel('Next one due').fill('2021-01-01');
    await page.getByRole('button', { name: 'Add it' }).click();
    await page.locator('.setup-list').getByText('RA-9').first().waitFor();
  }
});
