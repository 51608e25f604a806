import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { become, go, openPractice, startCasting, typePin } from './steps.ts';

const PIN = '7351';

let server: TestServer;
let tablet: TestTabletBrowser;
let page: Page;

beforeAll(async () => {
  server = await TestServer.start();
  tablet = new TestTabletBrowser();
  page = await tablet.open();
  await page.goto(server.address);
});

afterAll(async () => {
  await tablet.discard();
  await server.kill();
});

const dialog = () => page.locator('dialog[open]');
const emergency = () => page.getByRole('button', { name: 'Emergency' });

describe('temporary arrangements and the emergency numbers, with no network', () => {
  it('says honestly that nobody has entered numbers, and takes them from a keeper', async () => {
    await startCasting(page, 'Ada Test', PIN);
    await waitUntilOffline(page);
    await server.kill();
    await go(page, '/');
    await emergency().click();
    await dialog().getByText('No numbers entered. A keeper enters them in Setup.').waitFor();
    await dialog().getByRole('link', { name: 'Open Setup' }).click();
    await expect.poll(() => dialog().count()).toBe(0);
    await page.getByLabel('Site').fill('Test hall');
    await page.getByRole('button', { name: 'Keep and sign' }).click();
    await page.getByText('Give at least one number.').waitFor();
    await page.getByLabel('Number 1').fill('ext. 000');
    await page.getByRole('button', { name: 'Keep and sign' }).click();
    await typePin(page, PIN);
    await page.getByText('The numbers stand on this tablet.').waitFor();
  });

  it('shows the numbers with one tap from every place, and prints them on one sheet', async () => {
    for (const path of ['/', '/sequence', '/survey', '/furnace', '/handover', '/record', '/setup', '/findings']) {
      await go(page, path);
      await emergency().click();
      expect(await dialog().locator('dd').first().textContent(), path).toBe('ext. 000');
      await dialog().getByRole('button', { name: 'Close' }).click();
    }
    await go(page, '/hall');
    await page.getByText('ext. 000').waitFor();
    const pdf = await page.pdf({ preferCSSPageSize: true });
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    await page.emulateMedia({ media: 'print' });
    expect(await page.getByRole('button', { name: 'Print the page' }).isVisible()).toBe(false);
    // Read from two metres: at least 30 pt, 40 px of CSS (1 pt is 4/3 px, CSS Values and Units).
    const size = await page.locator('.hall-page dd').evaluate((e) => Number.parseFloat(getComputedStyle(e).fontSize));
    expect(size).toBeGreaterThanOrEqual(40);
    await page.emulateMedia({ media: 'screen' });
  });

  it('keeps an arrangement, says it on the first screen, extends it and ends it', async () => {
    await go(page, '/arrangements');
    await page.getByText('Nothing is arranged for a time.').waitFor();
    await page.getByRole('link', { name: 'Make an arrangement' }).click();
    await page.getByText('An instrument', { exact: true }).click();
    await page.getByLabel('What is different for now').fill('A calliper of the tool room');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Say why.').waitFor();
    // What was typed outlives leaving the screen.
    await go(page, '/');
    await go(page, '/arrangements?new=instrument');
    await expect
      .poll(() => page.getByLabel('What is different for now').inputValue())
      .toBe('A calliper of the tool room');
    await page.getByLabel('Why', { exact: true }).fill('our own is away');
    await page.getByLabel('It ends when').fill('our own is back');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Saved.', { exact: true }).waitFor();
    await go(page, '/');
    await page.getByText(/1 temporary arrangement open; the first ends when our own is back/).click();
    await page.getByRole('link', { name: /A calliper of the tool room/ }).click();
    await page.getByRole('button', { name: /^Extend it/ }).click();
    await page.getByLabel('Date').fill('2026-01-02');
    await page.getByLabel('Time').fill('06:00');
    await page.getByLabel('Why it stays longer').fill('the post is slow');
    await page.getByRole('button', { name: 'Extend it' }).click();
    await page.getByText('Saved: it is extended.').waitFor();
    await go(page, '/');
    await page.getByRole('link', { name: /Past its end: A calliper of the tool room/ }).click();
    await page.getByRole('button', { name: 'End it', exact: true }).click();
    await page.getByLabel('How it stands now').fill('our own is back, and right');
    await page.getByRole('button', { name: 'End it', exact: true }).click();
    await page.getByText('Saved: it is ended.').waitFor();
    await go(page, '/');
    await page.getByRole('heading', { name: 'Recorded last' }).waitFor();
    expect(await page.getByRole('region', { name: 'Temporary arrangements' }).count()).toBe(0);
    expect(tablet.problems).toEqual([]);
  });
});

describe('the practice casting', () => {
  it('keeps an arrangement about a channel from the Furnace screen, owned by the person at the tablet', async () => {
    const other = await TestServer.start();
    const second = new TestTabletBrowser();
    try {
      page = await second.open();
      await page.goto(other.address);
      await openPractice(page);
      await become(page, 'Tomas Reed');
      await go(page, '/furnace');
      await page.getByRole('link', { name: 'Bypass a channel for a time' }).click();
      await page.getByRole('combobox', { name: /^Channel/ }).selectOption('CR-2');
      await page.getByLabel('What is different for now').fill('CR-2 left out of the mean');
      await page.getByLabel('Why', { exact: true }).fill('drifts');
      await page.getByRole('button', { name: 'In 8 hours' }).click();
      await expect.poll(() => page.getByLabel('Time', { exact: true }).inputValue()).toMatch(/^\d\d:\d\d$/);
      await page.getByRole('button', { name: 'Keep it' }).click();
      await page.getByText('channel CR-2').waitFor();
      await go(page, '/furnace');
      await page.getByRole('link', { name: /CR-2 left out of the mean.*owner Tomas Reed/ }).waitFor();
      expect(second.problems).toEqual([]);
    } finally {
      await second.discard();
      await other.kill();
    }
  });
});
