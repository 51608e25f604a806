import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { go } from './steps.ts';

/** A log of weeks is written, and six hundred thousand cells of logger files are read: a busy machine takes its time. */
const PATIENT = { timeout: 120_000 };
const HEATS = [
  { id: 'P1', name: 'Tub preheat', finding: /missed/ },
  { id: 'P2', name: 'Core bake', finding: /Alarm A2/ },
  { id: 'P3', name: 'Casting', finding: /Spin rate over 100 turns: outside/ },
  { id: 'P4', name: 'Anneal', finding: /called finished/ },
  { id: 'P5', name: 'Cool-down', finding: /Middle of the glass/ },
] as const;

describe('every heat of the practice casting', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;
  const heading = (name: string | RegExp) => page.getByRole('heading', { level: 1, name });
  const sheet = (title: string) => page.locator('section.sheet', { has: page.getByRole('heading', { name: title }) });
  /** Goes where a row leads, and back to the heat. */
  const visit = async (title: string, row: RegExp, stands: () => Promise<void>): Promise<void> => {
    const heat = page.url();
    await sheet(title).getByRole('link', { name: row }).first().click();
    await stands();
    await page.goBack();
    await expect.poll(() => page.url(), PATIENT).toBe(heat);
    await sheet(title).waitFor(PATIENT);
  };

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await page.getByRole('button', { name: 'Open it at the end of the cool-down' }).click();
    await heading('Now').waitFor(PATIENT);
    await go(page, '/furnace');
    await sheet('Heats begun').waitFor(PATIENT);
  }, 180_000);
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  it.each(HEATS)(
    'walks through: $id, $name',
    async ({ id, name, finding }) => {
      await sheet('Heats begun')
        .getByRole('link', { name: new RegExp(`^${name}`) })
        .click();
      await page.getByText(`heat ${id} ·`).waitFor(PATIENT);
      await visit('Rounds of the heat', /full round|key round/, async () => {
        await heading('Entry').waitFor(PATIENT);
        await page
          .getByText(id === 'P1' ? 'BP-0' : 'FC-0')
          .first()
          .waitFor(PATIENT);
      });
      await visit('Hold points of the heat', /^H\d\d/, () => heading('Hold point').waitFor(PATIENT));
      await visit('Findings of the heat', finding, () => heading('Finding').waitFor(PATIENT));
      await visit('Rounds of the heat', /^This heat on the chart/, async () => {
        await page.locator('.heat-chart[aria-busy="false"]').waitFor(PATIENT);
        await page.locator('.heat-chart').press('Enter');
        // Between the rounds there are samples of the logger.
        const picked = page.locator('.picked-values').first();
        await expect.poll(() => picked.innerText(), PATIENT).toMatch(/^\s*[\d\s]+\.\d/);
      });
    },
    120_000,
  );

  it('works the figures of the heat that runs out of rounds and loggers', async () => {
    await go(page, '/furnace');
    await page.getByText('from rounds and loggers').waitFor(PATIENT);
  });

  it('showed no error on the way', () => {
    expect(tablet.problems).toEqual([]);
  });
});
