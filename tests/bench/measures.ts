import type { Locator, Page } from 'playwright-core';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { limitsAt, stationsOf } from '../../shared/plan/lookup.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { TestTabletBrowser, waitUntilOffline } from '../browser/harness.ts';
import { type Lab, percentile, throttle } from './lab.ts';

/** What is saved at: many stations each, spread over operations, none of which wants a temperature first. */
const PLACES: readonly (readonly [operation: string, characteristic: string])[] = [
  ['2.3', 'band-gap-to-stave'],
  ['6.2', 'core-mass'],
  ['6.3', 'core-position'],
  ['6.4', 'core-gap'],
  ['13.3', 'face-thickness'],
];
/** After the browser has started, so long its own start goes on beside ours. */
const BROWSER_RESTS_MS = 2_500;
/** Nobody waits longer for what a tap should bring. */
const TAP_LOST_MS = 20_000;
const plan = buildPlan(practiceDesign);

export interface SaveTimes {
  readonly entries: number;
  readonly saves: number;
  /** How many segments were sealed among them. */
  readonly sealed: number;
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
  const before = await segmentsIn(page);
  await throttle(page, rate);
  const each = Math.ceil(saves / PLACES.length);
  for (const [operation, characteristic] of PLACES) {
    await page.goto(lab.app(`/survey/${operation}/${characteristic}`));
    await page.locator('.entry-sheet').waitFor();
    for (let i = 0; i < each && times.length < saves; i++)
      times.push(await oneSave(page, operation, characteristic, times.length));
  }
  const sealed = (await segmentsIn(page)) - before;
  await tablet.discard();
  return { entries, saves: times.length, sealed, median_ms: percentile(times, 0.5), p95_ms: percentile(times, 0.95) };
}

const segmentsIn = (page: Page): Promise<number> =>
  page.evaluate(async () => {
    const name = (await indexedDB.databases()).find((d) => d.name?.startsWith('lehrbook-'))!.name!;
    const db = await new Promise<IDBDatabase>((resolve) => {
      const asked = indexedDB.open(name);
      asked.onsuccess = () => resolve(asked.result);
    });
    const asked = db.transaction('segments').objectStore('segments').count();
    const count = await new Promise<number>((resolve) => {
      asked.onsuccess = () => resolve(asked.result);
    });
    db.close();
    return count;
  });

/** Types a value at the middle of the limits of the station that stands on the page, and presses Enter. */
async function oneSave(page: Page, operation: string, characteristic: string, n: number): Promise<number> {
  const field = await openField(page);
  const label = (await field.getAttribute('aria-label')) ?? (await labelOf(page));
  await field.focus();
  await page.keyboard.type(middleOf(operation, characteristic, label.replace('Reading at ', ''), n));
  await page.evaluate(watchForSaved);
  await page.keyboard.press('Enter');
  const took = await page.waitForFunction(() => {
    const { from, to } = (globalThis as unknown as { watch: { from: number; to: number } }).watch;
    return to > 0 ? to - from : false;
  });
  return took.jsonValue() as Promise<number>;
}

/** Has the reading's field on the page, at a measured station by asking to measure again; a tap that is lost is told. */
async function openField(page: Page): Promise<Locator> {
  const again = page.getByRole('button', { name: 'Measure again' });
  const field = page.getByLabel(/^Reading at /);
  for (let taps = 0; ; taps++) {
    await field.or(again).first().waitFor();
    if (!(await field.isVisible())) await again.click({ timeout: TAP_LOST_MS }).catch(() => undefined);
    const there = await field.waitFor({ timeout: TAP_LOST_MS }).then(
      () => true,
      () => false,
    );
    // The field of the reading before may stand for a frame more.
    if (there && (await stillThere(page, field))) return field;
    if (!there) console.log(`tap ${taps + 1} on "Measure again" led to no field`);
  }
}

const stillThere = async (page: Page, field: Locator): Promise<boolean> => {
  await page.evaluate(
    () => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(resolve)))),
  );
  return field.isVisible();
};

const labelOf = (page: Page): Promise<string> =>
  page.evaluate(() => document.querySelector('[data-target="reading"] label')?.textContent ?? '');

/** Each save types another figure, so that its words differ from those of the save before. */
function middleOf(operation: string, characteristic: string, label: string, n: number): string {
  const c = plan.characteristics.find((x) => x.id === characteristic)!;
  const station = stationsOf(plan, c).find((s) => label.startsWith(s.label))?.id ?? stationsOf(plan, c)[0]!.id;
  const { lower, upper, nominal } = limitsAt(plan, characteristic, operation, station);
  const middle = nominal ?? ((lower ?? upper! - 1) + (upper ?? lower! + 1)) / 2;
  return (middle + ((n % 3) - 1) * 10 ** -c.decimals).toFixed(c.decimals);
}

/** In the page: notes when Enter went down, and the first frame whose words say that something new was saved. */
function watchForSaved(): void {
  const watch = { from: 0, to: 0 };
  Object.assign(globalThis, { watch });
  const said = () =>
    [...document.querySelectorAll('.entry-sheet p')]
      .map((e) => e.textContent ?? '')
      .find((t) => t.startsWith('Saved:'));
  const before = said();
  addEventListener(
    'keydown',
    (event) => {
      if (event.key === 'Enter') watch.from = event.timeStamp;
    },
    { capture: true, once: true },
  );
  const look = () => {
    const now = said();
    if (watch.from > 0 && now !== undefined && now !== before) watch.to = performance.now();
    else requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}

export interface StartTimes {
  readonly entries: number;
  readonly app_ms: readonly number[];
  readonly bare_ms: readonly number[];
}

/**
 * From a browser process that was ended to a first screen that says what is due, what comes next and which hold points
 * are open, with a digit on it that was typed meanwhile. Beside it, in turn, a bare page with the same libraries.
 */
export async function startTimes(lab: Lab, entries: number, runs: number, rate: number): Promise<StartTimes> {
  const { tablet, page } = await tabletWith(lab, entries);
  await firstScreenKept(page);
  const words = await page.evaluate(wordsOfNow);
  const isWhole = words.some((w) => w.startsWith('Round ')) && words.length >= 4;
  if (!isWhole) throw new Error(`The first screen says too little: ${words.join(', ')}`);
  await lab.endApp();
  const app_ms: number[] = [];
  const bare_ms: number[] = [];
  for (let run = 0; run < runs; run++) {
    bare_ms.push(await coldStart(tablet, lab.bare('/bench/bare-page.html'), ['next operation'], rate));
    app_ms.push(await coldStart(tablet, lab.app('/'), words, rate));
  }
  await tablet.discard();
  return { entries, app_ms, bare_ms };
}

/** The screen is kept once the log has rested; until then a start reads the log first. */
export const firstScreenKept = (page: Page): Promise<unknown> =>
  page.waitForFunction(() => localStorage.getItem('first frame') !== null, undefined, { polling: 500 });

async function coldStart(
  tablet: TestTabletBrowser,
  url: string,
  words: readonly string[],
  rate: number,
): Promise<number> {
  await tablet.close();
  const page = await tablet.open();
  page.setDefaultTimeout(600_000);
  // A browser of a desk builds its address bar meanwhile, which an installed app does not have.
  await page.waitForTimeout(BROWSER_RESTS_MS);
  await throttle(page, rate);
  await page.addInitScript(watchForStart, words);
  let typing = true;
  const typist = (async () => {
    while (typing) {
      await page.keyboard.press('7').catch(() => undefined);
      await new Promise((resolve) => setTimeout(resolve, 40));
    }
  })();
  await page.goto(url);
  const took = await page.waitForFunction(() => (globalThis as unknown as { stands?: number }).stands ?? false);
  typing = false;
  await typist;
  const value = (await took.jsonValue()) as number;
  // What was typed is kept as a draft: the next start must begin with an empty field.
  await page.locator('input').first().fill('');
  await page.waitForTimeout(500);
  return value;
}

/** In the page: the due round, the next operation and the hold points, as the first screen says them. */
function wordsOfNow(): string[] {
  return [...document.querySelectorAll('h1, .now-next h2, .due-round h2, .now-lead')].map((e) => e.textContent ?? '');
}

/** In the page: when both the words and the typed digit stand there; another round may have come due since. */
function watchForStart(words: readonly string[]): void {
  const look = () => {
    const digit = document.querySelector<HTMLInputElement>('input')?.value.includes('7');
    const said = [...document.querySelectorAll('h1, h2, .now-lead')].map((e) => e.textContent ?? '');
    const stands = (word: string) =>
      word.startsWith('Round ') ? said.some((s) => s.startsWith('Round ')) : said.includes(word);
    if (digit && words.every(stands)) Object.assign(globalThis, { stands: performance.now() });
    else requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}
