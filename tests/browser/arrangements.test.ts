import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { become, go, openPractice, typePin } from './steps.ts';

describe('temporary arrangements and the emergency numbers', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  const main = () => page.locator('main');

  it('arranges something with an owner and an end, shows it on Now, changes it and ends it', async () => {
    await become(page, 'Hanna Vik');
    await go(page, '/arrangements?about=instrument/RA-1');
    await page.getByRole('button', { name: 'Arrange it' }).click();
    expect(await page.getByRole('alert').innerText()).toBe('Say what is different from the plan.');
    await page.getByLabel('What is different for now').fill('Arm borrowed from the workshop');
    await page.getByLabel('It ends at the latest').selectOption('8');
    await page.getByLabel('Reason').fill('Ours is at calibration.');
    await page.getByRole('button', { name: 'Arrange it' }).click();
    await page.getByRole('heading', { level: 2, name: 'Arm borrowed from the workshop' }).waitFor();
    expect(await main().innerText()).toContain('Hanna Vik');
    await go(page, '/');
    const now = page.locator('section', { hasText: 'Arranged for a time' });
    await now.getByText('Arm borrowed from the workshop').click();
    await page.getByLabel('It ends at the latest').selectOption('24');
    await page.getByLabel('Reason').fill('Calibration takes longer.');
    await page.getByRole('button', { name: 'Keep the change' }).click();
    await expect.poll(() => main().innerText()).toContain('Changed');
    await page.getByLabel('What was put right, and how it was seen').fill('Ours is back, gauge checked.');
    await page.getByRole('button', { name: 'End it' }).click();
    await expect.poll(() => main().innerText()).toContain('Ours is back, gauge checked.');
    await go(page, '/');
    await page.locator('section', { hasText: 'Recorded last' }).waitFor();
    await expect.poll(() => page.locator('section', { hasText: 'Arranged for a time' }).count()).toBe(1);
    expect(await page.locator('section', { hasText: 'Arranged for a time' }).innerText()).not.toContain('borrowed');
  });

  it('shows the numbers with one tap on every place, and prints them alone', async () => {
    for (const path of ['/', '/sequence', '/survey', '/furnace', '/handover', '/record', '/setup']) {
      await go(page, path);
      await page.getByRole('button', { name: 'Emergency' }).click();
      expect(await page.locator('dialog[open]').innerText()).toContain('inside 71');
      await page.keyboard.press('Escape');
    }
    await page.getByRole('button', { name: 'Emergency' }).click();
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.app').isVisible()).toBe(false);
    expect(await page.getByText('inside 72').isVisible()).toBe(true);
    await page.emulateMedia({ media: 'screen' });
    await page.keyboard.press('Escape');
  });

  it('lets a keeper change the numbers with the PIN, and nobody else', async () => {
    await go(page, '/setup?part=hall');
    await page.getByLabel('Number', { exact: true }).first().fill('inside 99');
    await page.getByRole('button', { name: 'Sign and keep' }).click();
    await typePin(page, '1234');
    await page.getByText('The numbers are kept.').waitFor();
    await page.getByRole('button', { name: 'Emergency' }).click();
    expect(await page.locator('dialog[open]').innerText()).toContain('inside 99');
    await page.keyboard.press('Escape');
    await become(page, 'Joel Kast');
    await go(page, '/setup?part=hall');
    await page.getByText(/Only a keeper of the roster/).waitFor();
  });
});
