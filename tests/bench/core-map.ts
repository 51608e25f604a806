import type { Page } from 'playwright-core';
import { TestTabletBrowser } from '../browser/harness.ts';
import { importCores } from './import-cores.ts';
import { type Lab, percentile, throttle } from './lab.ts';

export interface CoreMapWanted {
  readonly blank_diameter_mm: number;
  /** How many stations of each characteristic are measured already. */
  readonly measured: number;
  /** How many times slower the page's processor is made. */
  readonly slowed: number;
  readonly seconds: number;
}

export interface CoreMapTimes {
  readonly cores: number;
  readonly entries: number;
  /** From the tap on a link to the first frame with the screen's map, ms, by screen. */
  readonly opened_ms: Readonly<Record<string, number>>;
  /** From the tap to the frame in which every core is counted. */
  readonly counted_ms: Readonly<Record<string, number>>;
  readonly frames: number;
  /** From one frame to the next, ms. */
  readonly frame_p50_ms: number;
  readonly frame_p95_ms: number;
  /** Share of frames that came within 33 ms. */
  readonly in_time: number;
}

const OPERATION = '6.3';
const SCREENS = ['cores', 'core-gap', 'pin-pull', 'core-position'];

/** How fast the map of the cores opens, and how evenly it moves, with so many cores. */
export async function coreMapTimes(lab: Lab, wanted: CoreMapWanted): Promise<CoreMapTimes> {
  const tablet = new TestTabletBrowser();
  try {
    const page = await tablet.open();
    page.setDefaultTimeout(600_000);
    const made = await importCores(lab, page, {
      blank_diameter_mm: wanted.blank_diameter_mm,
      measured: ['pin-pull', 'core-position', 'core-gap'].map((characteristic) => ({
        operation: OPERATION,
        characteristic,
        first: wanted.measured,
      })),
      finished: [],
    });
    await page.goto(lab.app('/survey'));
    await page.locator('h1').waitFor();
    await throttle(page, wanted.slowed);
    const opened_ms: Record<string, number> = {};
    const counted_ms: Record<string, number> = {};
    for (const screen of SCREENS) {
      const { opened, counted } = await open(page, `/survey/${OPERATION}/${screen}`);
      opened_ms[screen] = opened;
      counted_ms[screen] = counted;
    }
    const gaps = await moveAround(page, wanted.seconds);
    return {
      ...made,
      opened_ms,
      counted_ms,
      frames: gaps.length,
      frame_p50_ms: percentile(gaps, 0.5),
      frame_p95_ms: percentile(gaps, 0.95),
      in_time: gaps.filter((gap) => gap <= 33.4).length / gaps.length,
    };
  } finally {
    await tablet.discard();
  }
}

/** Goes from the list of surveys to a screen as a tap does, and notes when it stood. */
async function open(page: Page, path: string): Promise<{ opened: number; counted: number }> {
  await page.locator('a[href="/survey"]').first().click();
  await page.locator('.survey-group, .survey-operation').first().waitFor();
  // A code part that is not here yet is not what is measured: the worker brings all of them on the first visit.
  await page.evaluate(watchForMap, path);
  const took = await page.waitForFunction(() => {
    const { from, opened, counted } = (
      globalThis as unknown as { watch: { from: number; opened: number; counted: number } }
    ).watch;
    return counted > 0 ? { opened: opened - from, counted: counted - from } : false;
  });
  return took.jsonValue() as Promise<{ opened: number; counted: number }>;
}

/** In the page: taps the link, and notes the first frame with the map and the first with all its figures. */
function watchForMap(path: string): void {
  const watch = { from: 0, opened: 0, counted: 0 };
  Object.assign(globalThis, { watch });
  const link = document.querySelector<HTMLAnchorElement>(`a[href="${path}"]`)!;
  const look = () => {
    // Two frames: the one in which it was drawn has been shown.
    const map = document.querySelector('.core-map canvas');
    const figure = document.querySelector('.cores-legend b')?.textContent;
    const now = performance.now();
    if (map && watch.opened === 0) watch.opened = now;
    if (map && figure && figure !== '–') watch.counted = now;
    else requestAnimationFrame(look);
  };
  watch.from = performance.now();
  link.click();
  requestAnimationFrame(look);
}

/** Drags and turns the wheel over the map for some seconds; the times from each frame to the next, ms. */
export async function moveAround(page: Page, seconds: number): Promise<number[]> {
  const box = (await page.locator('.core-map canvas').boundingBox())!;
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.evaluate(() => {
    const frames: number[] = [];
    Object.assign(globalThis, { frames });
    const next = (time: number) => {
      frames.push(time);
      requestAnimationFrame(next);
    };
    requestAnimationFrame(next);
  });
  const until = Date.now() + seconds * 1000;
  for (let turn = 0; Date.now() < until; turn++) {
    // In, aside, out again.
    const phase = turn % 60;
    if (phase < 15) await page.mouse.wheel(0, -120);
    else if (phase < 45) {
      if (phase === 15) await page.mouse.down();
      await page.mouse.move(x + 90 * Math.sin(phase / 3), y + 60 * Math.cos(phase / 4));
      if (phase === 44) await page.mouse.up();
    } else await page.mouse.wheel(0, 120);
  }
  await page.mouse.up();
  return page.evaluate(() => {
    const { frames } = globalThis as unknown as { frames: number[] };
    return frames.slice(1).map((time, i) => time - frames[i]!);
  });
}
