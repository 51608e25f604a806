import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chartPage, chartTimes, someRows } from '../bench/chart.ts';
import { sampleFile } from '../logger/sample-file.ts';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { go, openPractice } from './steps.ts';

const HOUR_MS = 3_600_000;
/** A busy machine is only slow. */
const PATIENT = { timeout: 20_000 };

type Line = { readonly columns: readonly unknown[] };

/** In the page: whether the chart as it was kept stood at any time. */
function watchForKept(): void {
  new MutationObserver((_, watch) => {
    if (!document.querySelector('.heat-chart-hand')?.textContent?.includes('as kept')) return;
    Object.assign(globalThis, { sawKept: true });
    watch.disconnect();
  }).observe(document, { childList: true, subtree: true });
}

describe('the chart of all heats', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;
  const chart = () => page.locator('.heat-chart');
  const shown = async (): Promise<string> => (await chart().getAttribute('aria-label'))!;
  const drawn = () => page.locator('.heat-chart[aria-busy="false"]').waitFor();
  /** Where the plot lies, once it lies there. */
  const plot = async () => {
    const over = page.locator('.heat-chart-over');
    await expect.poll(() => over.boundingBox(), PATIENT).not.toBeNull();
    return (await over.boundingBox())!;
  };
  /** What stands beside a channel at the picked instant. */
  const readingOf = async (channel: string): Promise<string> =>
    page.locator('.row', { hasText: channel }).first().innerText();
  /** Ink of the lines: pixels of the picture that are not of the paper. */
  const ink = (): Promise<number> =>
    page.evaluate(() => {
      const canvas = document.querySelector<HTMLCanvasElement>('.heat-chart canvas')!;
      const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
      let painted = 0;
      for (let i = 3; i < data.length; i += 4) if (data[i]! > 0) painted += 1;
      return painted;
    });

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

  it('draws the rounds of the heats that were begun', async () => {
    await go(page, '/furnace');
    await page.getByRole('link', { name: /^Chart/ }).click();
    await drawn();
    await expect.poll(() => ink()).toBeGreaterThan(2000);
    await chart().press('Enter');
    await expect.poll(() => readingOf('BP-0')).toMatch(/no sample/);
    await expect.poll(() => readingOf('BP-0')).toMatch(/round\s+[\d.]+/);
  });

  it('draws samples beside them, and reads both where it is tapped', async () => {
    await go(page, '/heat/files');
    const from_ms = Math.floor(Date.now() / HOUR_MS) * HOUR_MS - 48 * HOUR_MS;
    const text = sampleFile({ channels: ['BP-0', 'BP-1'], from_ms, rows: 2880, step_ms: 60_000, value_C: () => 431 });
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'two-days.csv', mimeType: 'text/csv', buffer: Buffer.from(text) });
    await page.getByRole('button', { name: 'Read the whole file' }).click();
    await page.getByRole('button', { name: 'Take it in' }).click();
    await page.getByText('two-days.csv is in the log').waitFor();
    await go(page, '/heat/chart');
    await drawn();
    const box = await plot();
    // The newest samples stand at the right edge.
    await page.touchscreen.tap(box.x + box.width - 12, box.y + box.height / 2);
    await expect.poll(() => readingOf('BP-0'), PATIENT).toMatch(/43[01]\.\d( to 43[12]\.\d)?/);
    await expect.poll(() => readingOf('BP-2')).toMatch(/no sample/);
  });

  it('moves in time with buttons, keys, the wheel and fingers', async () => {
    const changes = async (what: () => Promise<unknown>): Promise<void> => {
      const before = await shown();
      await what();
      await expect.poll(shown, PATIENT).not.toBe(before);
    };
    await changes(() => page.getByRole('button', { name: 'Closer' }).click());
    await changes(() => page.getByRole('button', { name: 'Earlier' }).click());
    await chart().focus();
    await changes(() => page.keyboard.press('ArrowRight'));
    await changes(() => page.keyboard.press('ArrowUp'));
    await changes(() => page.keyboard.press('Home'));
    const box = await plot();
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await changes(() => page.mouse.wheel(0, -300));
    await changes(async () => {
      await page.mouse.down();
      await page.mouse.move(box.x + box.width / 2 + 120, box.y + box.height / 2, { steps: 5 });
      await page.mouse.up();
    });
    // Two fingers, over the browser's protocol: apart they bring it closer.
    const session = await page.context().newCDPSession(page);
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', apart: number) =>
      session.send('Input.dispatchTouchEvent', {
        type,
        touchPoints:
          type === 'touchEnd'
            ? []
            : [-1, 1].map((side, id) => ({ x: box.x + box.width / 2 + side * apart, y: box.y + 80, id })),
      });
    await changes(async () => {
      await touch('touchStart', 40);
      for (const apart of [60, 80, 110, 140]) await touch('touchMove', apart);
      await touch('touchEnd', 0);
    });
  });

  it('makes samples again from the file when they are lost', async () => {
    await page.evaluate(async () => {
      const name = (await indexedDB.databases()).find((d) => /^lehrbook-\w/.test(d.name ?? ''))!.name!;
      const db = await new Promise<IDBDatabase>((resolve) => {
        const opening = indexedDB.open(name);
        opening.onsuccess = () => resolve(opening.result);
      });
      const change = db.transaction(['samples', 'sampleFiles'], 'readwrite');
      change.objectStore('samples').clear();
      change.objectStore('sampleFiles').clear();
      await new Promise((resolve) => {
        change.oncomplete = resolve;
      });
      db.close();
    });
    await go(page, '/heat/chart');
    await drawn();
    const box = await plot();
    await page.mouse.click(box.x + box.width - 12, box.y + box.height / 2);
    await expect.poll(() => readingOf('BP-0'), PATIENT).toMatch(/43[01]\.\d/);
  });

  it('stands as it was kept while the log is read, and only for the log that it was kept for', async () => {
    const fits = (): Promise<boolean> =>
      page.evaluate(() => {
        const [chart, frame] = ['kept chart', 'first frame'].map((key) =>
          JSON.parse(localStorage.getItem(key) ?? 'null'),
        );
        return chart !== null && chart.stamp === frame?.stamp && chart.lines.some((l: Line) => l.columns.length > 30);
      });
    const sawKept = (): Promise<boolean> => page.evaluate(() => 'sawKept' in globalThis);
    await expect.poll(fits, PATIENT).toBe(true);
    await page.addInitScript(watchForKept);
    await page.reload();
    await drawn();
    expect(await sawKept()).toBe(true);
    await expect.poll(fits, PATIENT).toBe(true);
    await page.evaluate(() => {
      const kept = JSON.parse(localStorage.getItem('kept chart')!);
      localStorage.setItem('kept chart', JSON.stringify({ ...kept, stamp: 'an older log' }));
    });
    await page.reload();
    await drawn();
    expect(await sawKept()).toBe(false);
  });

  it('prints, in black', async () => {
    await page.emulateMedia({ media: 'print' });
    const pdf = await page.pdf();
    expect(pdf.length).toBeGreaterThan(10_000);
    const black = await page.evaluate(() =>
      getComputedStyle(document.querySelector('.heat-chart')!).getPropertyValue('--pen-2').trim(),
    );
    expect(black).toBe('#000');
    await page.emulateMedia({ media: 'screen' });
  });

  it('showed no error on the way', () => {
    expect(tablet.problems).toEqual([]);
  });

  it('is measured by a small run of its bench; nothing timed decides', async () => {
    const times = await chartTimes(someRows(1_200, 20), 1, 1);
    expect([times.samples, times.lines]).toEqual([16_800, 7]);
    expect(times.frames_ms.length).toBeGreaterThan(3);
    for (const time of [...times.kept_ms, ...times.read_ms]) expect(time).toBeGreaterThan(0);
    expect(chartPage(times, 1, 2)).not.toContain('NaN');
  });
});
