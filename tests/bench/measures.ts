import type { Page } from 'playwright-core';
import { TestTabletBrowser, waitUntilOffline } from '../browser/harness.ts';
import { type Lab, percentile, throttle } from './lab.ts';

/** Stations to save at, spread over operations; each has many. */
const PLACES = [
  '/survey/2.4/tub-radius',
  '/survey/6.2/core-mass',
  '/survey/6.3/pin-pull',
  '/survey/6.4/core-top-height',
  '/survey/13.3/face-thickness',
];

export interface SaveTimes {
  readonly entries: number;
  readonly saves: number;
  readonly median_ms: number;
  readonly p95_ms: number;
}

/** Makes a log of so many entries in a browser of its own and keeps it open. */
export async function tabletWith(lab: Lab, entries: number): Promise<{ tablet: TestTabletBrowser; page: Page }> {
  const tablet = new TestTabletBrowser();
  const page = await tablet.open();
  page.setDefaultTimeout(600_000);
  await page.goto(lab.app('/bench/import-page.html'));
  await page.waitForFunction(() => 'importLong' in globalThis);
  await page.evaluate(
    (n) => (globalThis as unknown as { importLong(n: number, t: number): Promise<unknown> }).importLong(n, 4),
    entries,
  );
  await page.goto(lab.app('/'));
  await page.locator('h1').waitFor();
  await waitUntilOffline(page);
  return { tablet, page };
}

/**
 * From the key event of Enter to the first frame in which the verdict of the saved reading stands on the page, which it
 * does only after the transaction completed.
 */
export async function saveTimes(lab: Lab, entries: number, saves: number, rate: number): Promise<SaveTimes> {
  const { tablet, page } = await tabletWith(lab, entries);
  const times: number[] = [];
  await throttle(page, rate);
  const each = Math.ceil(saves / PLACES.length);
  for (const path of PLACES) {
    await page.goto(lab.app(path));
    await page.locator('.entry-sheet').waitFor();
    await page.waitForTimeout(500);
    for (let i = 0; i < each && times.length < saves; i++) times.push(await oneSave(page));
  }
  await tablet.discard();
  return { entries, saves: times.length, median_ms: percentile(times, 0.5), p95_ms: percentile(times, 0.95) };
}

async function oneSave(page: Page): Promise<number> {
  const again = page.getByRole('button', { name: 'Measure again' });
  if ((await again.count()) > 0) await again.click();
  const field = page.getByLabel(/^Reading at /);
  await field.focus();
  const nominal = await page.evaluate(
    () =>
      document
        .querySelector('.strip-middle')
        ?.textContent?.replace(/[^\d.−-]/g, '')
        .replace('−', '-') ?? '1',
  );
  await page.keyboard.type(nominal || '1');
  await page.evaluate(() => {
    const watch = { from: 0, to: 0 };
    Object.assign(globalThis, { watch });
    addEventListener(
      'keydown',
      (event) => {
        if (event.key === 'Enter') watch.from = performance.now();
      },
      { capture: true, once: true },
    );
    const before = document.querySelector('.saved, .judged-words')?.textContent;
    const look = () => {
      const said = [...document.querySelectorAll('.saved, .judged-words')]
        .map((e) => e.textContent ?? '')
        .find((t) => t.startsWith('Saved:') && t !== before);
      if (watch.from > 0 && said) watch.to = performance.now();
      else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  await page.keyboard.press('Enter');
  return page
    .waitForFunction(
      () => {
        const { from, to } = (globalThis as unknown as { watch: { from: number; to: number } }).watch;
        return to > 0 ? to - from : false;
      },
      undefined,
      { polling: 50 },
    )
    .then((handle) => handle.jsonValue() as Promise<number>);
}

export interface StartTimes {
  readonly entries: number;
  readonly app_ms: readonly number[];
  readonly bare_ms: readonly number[];
}

/** From navigation to a screen that tells what is next, open holds included; beside it a bare page, in turn. */
export async function startTimes(lab: Lab, entries: number, runs: number, rate: number): Promise<StartTimes> {
  const { tablet } = await tabletWith(lab, entries);
  const app_ms: number[] = [];
  const bare_ms: number[] = [];
  for (let run = 0; run < runs; run++) {
    app_ms.push(await coldStart(tablet, lab.app('/'), '.gate-open, .gate-released, .gate-in-doubt, .gate-ready', rate));
    bare_ms.push(await coldStart(tablet, lab.app('/bench/bare-page.html'), 'input', rate));
  }
  await tablet.discard();
  return { entries, app_ms, bare_ms };
}

async function coldStart(tablet: TestTabletBrowser, url: string, selector: string, rate: number): Promise<number> {
  await tablet.close();
  const page = await tablet.open();
  page.setDefaultTimeout(600_000);
  await throttle(page, rate);
  await page.goto(url);
  await page.locator(`main ${selector}, body > ${selector}, ${selector}`).first().waitFor();
  return page.evaluate(() => performance.now());
}
