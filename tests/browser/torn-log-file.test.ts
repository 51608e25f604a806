import { readdirSync, statSync, truncateSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { Lab } from '../bench/lab.ts';
import { TestTabletBrowser } from './harness.ts';

interface Kill {
  begin(): Promise<string>;
  saving(casting: string): Promise<void>;
  found(casting: string): Promise<{ hashes: string[]; faults: string[] } | null>;
}

/** Of the last record that the browser wrote, so much does not reach the disk. */
const TORN_BYTES = 10;

const tablet = new TestTabletBrowser();
let lab: Lab;
beforeAll(async () => {
  lab = await Lab.open(['kill-page']);
});
afterAll(async () => {
  await tablet.discard();
  await lab.close();
});

const open = async (): Promise<Page> => {
  const page = await tablet.open();
  await page.goto(lab.app('/bench/kill-page.html'));
  await page.waitForFunction(() => 'kill' in globalThis);
  return page;
};

/** The file that the browser's database appends to now. */
function logFile(): string {
  const folder = join(tablet.databases, readdirSync(tablet.databases).find((name) => name.endsWith('.leveldb'))!);
  const names = readdirSync(folder).filter((name) => name.endsWith('.log'));
  return join(folder, names.sort().at(-1)!);
}

/** Saves until so many entries were told as saved. @returns their hashes, oldest first */
async function saved(page: Page, casting: string, count: number): Promise<string[]> {
  const told: string[] = [];
  page.on('console', (message) => {
    if (message.text().startsWith('saved ')) told.push(...message.text().slice(6).split(' '));
  });
  void page.evaluate((id) => (globalThis as unknown as { kill: Kill }).kill.saving(id), casting).catch(() => undefined);
  await expect.poll(() => told.length).toBeGreaterThan(count);
  return told;
}

it('keeps the log when a flat battery tore the file that the browser was writing', async () => {
  let page = await open();
  const casting = await page.evaluate(() => (globalThis as unknown as { kill: Kill }).kill.begin());
  await saved(page, casting, 20);
  await tablet.kill();
  const torn = logFile();
  truncateSync(torn, statSync(torn).size - TORN_BYTES);

  page = await open();
  const told = await saved(page, casting, 20);
  // What stands behind the torn place would make the next start throw the database away.
  await expect.poll(() => logFile()).not.toBe(torn);
  await tablet.kill();

  page = await open();
  const found = await page.evaluate((id) => (globalThis as unknown as { kill: Kill }).kill.found(id), casting);
  expect(found?.faults).toEqual([]);
  expect(told.filter((hash) => !found!.hashes.includes(hash))).toEqual([]);
});
