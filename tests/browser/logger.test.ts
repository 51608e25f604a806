import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sampleFile } from '../logger/sample-file.ts';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { become, go, openPractice } from './steps.ts';

const HOUR_MS = 3_600_000;

describe('logger files', () => {
  const tablet = new TestTabletBrowser();
  const folder = mkdtempSync(join(tmpdir(), 'lehrbook-logger-'));
  let server: TestServer;
  let page: Page;
  /** When the practice casting's heat began. */
  let start_ms = 0;

  const fileOf = (name: string, text: string | Uint8Array): string => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };
  const choose = (path: string): Promise<void> => page.locator('input[type=file]').setInputFiles(path);
  /** What of logger files lies in the database: blobs, files, samples. */
  const stored = (): Promise<number[]> =>
    page.evaluate(async () => {
      const name = (await indexedDB.databases()).find((d) => /^lehrbook-\w/.test(d.name ?? ''))!.name!;
      const db = await new Promise<IDBDatabase>((resolve, reject) => {
        const opening = indexedDB.open(name);
        opening.onsuccess = () => resolve(opening.result);
        opening.onerror = () => reject(opening.error);
      });
      const counts = await Promise.all(
        ['blobs', 'sampleFiles', 'samples'].map(
          (table) =>
            new Promise<number>((resolve) => {
              const asked = db.transaction(table).objectStore(table).count();
              asked.onsuccess = () => resolve(asked.result);
            }),
        ),
      );
      db.close();
      return counts;
    });

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
    start_ms = Date.now() - 30 * HOUR_MS;
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
    rmSync(folder, { recursive: true, force: true });
  });

  it('are reached from the furnace', async () => {
    await become(page, 'Milo Quist');
    await go(page, '/furnace');
    await page.getByRole('link', { name: /Logger files/ }).click();
    await page.getByRole('heading', { level: 1, name: 'Logger files' }).waitFor();
    await page.getByText('No logger file was taken in yet.').waitFor();
  });

  it('refuse what is no logger file, in words, and keep nothing of it', async () => {
    await choose(fileOf('photo.csv', new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0, 1, 2, 3])));
    await page.getByText(/This is not text/).waitFor();
    await choose(fileOf('empty.csv', ''));
    await page.getByText('empty.csv is empty.').waitFor();
    await choose(fileOf('words.csv', 'a;b\nx;y\nz;w\n'));
    await page.getByText(/No column holds times/).waitFor();
    expect(await stored()).toEqual([0, 0, 0]);
  });

  it('are parted and turned from emf as somebody says', async () => {
    const rows = Array.from({ length: 30 }, (_, i) => `2026-03-04T00:${String(i).padStart(2, '0')}Z;9,444;25,0`);
    await choose(fileOf('emf.csv', `time;BP-0 [mV];box\n${rows.join('\n')}\n`));
    await page.getByLabel('Delimiter: what parts the columns').selectOption('|');
    await page.getByText(/No column holds times|one column only/).waitFor();
    await page.getByLabel('Delimiter: what parts the columns').selectOption(';');
    await page.getByText(/Say where the reference junction/).waitFor();
    // The plan says which thermocouple the channel is.
    await page.getByLabel('Reference junction of BP-0 [mV]').selectOption({ label: 'read in box' });
    await page.getByText(/Say in which unit the reference junction/).waitFor();
    await page.getByLabel('Unit in which the junction of BP-0 [mV] is read').selectOption('°C');
    await page.getByText('as they would be read').waitFor();
    // NIST SRD 60, type S: 9.587 mV at 1000 °C less 0.143 mV at 25 °C.
    await page
      .getByText(/^(999\.9|1 ?000\.[01])/)
      .first()
      .waitFor();
    await page.getByRole('button', { name: 'Leave it' }).click();
    expect(await stored()).toEqual([0, 0, 0]);
  });

  it('ask for the clock and the order of the date, show what is not taken, and are kept with one entry', async () => {
    const good = sampleFile({
      channels: ['BP-0', 'BP-1'],
      // Days of a month that can be read both ways.
      from_ms: Date.UTC(2026, 2, 4),
      rows: 200,
      step_ms: 60_000,
      value_C: () => 120,
      dates: 'dmy',
    });
    const lines = good.split('\r\n');
    lines[10] = lines[10]!.replace(/;.*/, ';NaN;9999');
    lines[20] = 'gestern;1;2';
    await choose(fileOf('march.csv', lines.join('\r\n')));
    await page.getByText(/Say which clock/).waitFor();
    await page.getByRole('button', { name: 'Read the whole file' }).click();
    expect(await page.getByRole('heading', { name: 'How it is read' }).count()).toBe(1);
    await page.getByLabel(/^Clock of the logger/).selectOption('UTC');
    await page.getByText(/Say in which order/).waitFor();
    await page.getByLabel(/^Order of the date/).selectOption('dmy');
    await page.getByText('as they would be read').waitFor();
    await page.getByText('2026-03-04').first().waitFor();
    await page.getByRole('button', { name: 'Read the whole file' }).click();
    await page.getByRole('heading', { name: 'What is not taken' }).waitFor();
    const report = page.locator('.heat-seen');
    expect(await report.innerText()).toMatch(/1 row with a time that cannot be read[\s\S]*lines 21/);
    expect(await report.innerText()).toMatch(/1 value of BP-0 \[°C\] no finite number[\s\S]*lines 11/);
    expect(await report.innerText()).toMatch(/1 value of BP-1 \[°C\] outside/);
    expect(await stored()).toEqual([0, 0, 0]);
    await page.getByRole('button', { name: 'Take in what fits' }).click();
    await page.getByText('march.csv is in the log').waitFor();
    await page.getByText(/199\s+of\s+200\s+rows/).waitFor();
    const [blobs, files] = await stored();
    expect([blobs, files]).toEqual([1, 1]);
  });

  it('are not taken in twice', async () => {
    const again = join(folder, 'march.csv');
    await choose(again);
    // What was said of the last file of the same logger is said of this one too.
    await page.getByRole('button', { name: 'Read the whole file' }).click();
    await page.getByRole('button', { name: 'Take in what fits' }).click();
    await page.getByText(/The same file was taken in before/).waitFor();
    await page.getByRole('button', { name: 'Leave it' }).click();
    expect((await stored())[0]).toBe(1);
  });

  it('stand in the record with their file and mapping', async () => {
    await page.getByRole('link', { name: /march.csv/ }).click();
    await page.getByText('BP-0, BP-1').waitFor();
    await page.getByText('199 taken of 200').waitFor();
  });

  it('of a month at a minute on 60 channels come in beside the screens', async () => {
    const ring = (group: string, from: number, to: number) =>
      Array.from({ length: to - from + 1 }, (_, i) => `${group}-${from + i}`);
    const channels = [
      ...['CR', 'WU', 'WL'].flatMap((group) => ring(group, 1, 6)),
      ...['BD', 'FB'].flatMap((group) => ring(group, 1, 4)),
      ...ring('BP', 0, 6),
      ...ring('MC', 0, 3),
      ...ring('FC', 0, 6),
      ...ring('spare', 1, 16),
    ];
    expect(channels).toHaveLength(60);
    await go(page, '/heat/files');
    await choose(
      fileOf(
        'month.csv',
        sampleFile({ channels, from_ms: start_ms - 720 * HOUR_MS, rows: 43_200, step_ms: 60_000, value_C: () => 400 }),
      ),
    );
    await page.getByRole('button', { name: 'Read the whole file' }).waitFor();
    // What the rule showed, and how long the screens ever stood still, while the worker read.
    await page.evaluate(() => {
      const seen = { shares: [] as number[], longest_ms: 0 };
      Object.assign(globalThis, { seen });
      new MutationObserver(() => {
        const rule = document.querySelector('progress');
        if (rule) seen.shares.push(rule.value / rule.max);
      }).observe(document.body, { subtree: true, childList: true, attributes: true });
      let before = performance.now();
      const frame = (now: number) => {
        seen.longest_ms = Math.max(seen.longest_ms, now - before);
        before = now;
        requestAnimationFrame(frame);
      };
      requestAnimationFrame(frame);
    });
    await page.getByRole('button', { name: 'Read the whole file' }).click();
    await page.getByRole('heading', { name: 'What it gives' }).waitFor({ timeout: 90_000 });
    await page.getByText(/43\s?200\s+of/).waitFor();
    await page.getByRole('button', { name: 'Take it in' }).click();
    await page.getByText('month.csv is in the log').waitFor({ timeout: 90_000 });
    const seen = await page.evaluate(
      () => (globalThis as unknown as { seen: { shares: number[]; longest_ms: number } }).seen,
    );
    console.log(`month.csv: the longest the screens stood still was ${seen.longest_ms.toFixed(0)} ms`);
    expect(seen.shares.filter((share) => share > 0 && share < 1).length).toBeGreaterThan(2);
    expect((await stored())[1]).toBe(2);
  });

  it('showed no error on the way', () => {
    expect(tablet.problems).toEqual([]);
  });
});
