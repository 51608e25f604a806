import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { plannedAtHours, segmentEnds } from '../../shared/logbook/state/heat.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { TestServer, TestTabletBrowser } from '../browser/harness.ts';
import { go, openPractice } from '../browser/steps.ts';
import { sampleFile } from '../logger/sample-file.ts';
import { percentile, throttle } from './lab.ts';

export interface ChartTimes {
  readonly samples: number;
  readonly days: number;
  /** From the navigation in a browser just started until the chart with its samples stands, ms. */
  readonly open_ms: readonly number[];
  /** The same for a screen that draws next to nothing: what the log itself costs at a start. */
  readonly plain_ms: readonly number[];
  /** Between the frames of three seconds of pan and zoom, ms. */
  readonly frames_ms: readonly number[];
}

const HOUR_MS = 3_600_000;
const { heatPlans } = buildPlan(practiceDesign);
const CHANNELS = ['BP', 'FC'].flatMap((group) => [0, 1, 2, 3, 4, 5, 6].map((n) => `${group}-${n}`));
/** A browser of a desk builds its own windows first. */
const BROWSER_RESTS_MS = 2_000;

/** What the heat plans want, one after the other, as hours go by; 20 °C behind the last. */
function casting_C(hour: number): number {
  let from = 0;
  for (const plan of heatPlans) {
    const length = segmentEnds(plan).at(-1)!;
    if (hour < from + length) return plannedAtHours(plan, [hour - from])[0]!.planned_C;
    from += length;
  }
  return 20;
}

/**
 * Opens the chart of a casting with so many rows of 14 channels over so many days, cold, and moves it for three seconds.
 * @param rate how many times slower the page's processor is made
 */
export async function chartTimes(rows: number, days: number, runs: number, rate: number): Promise<ChartTimes> {
  const server = await TestServer.start();
  const tablet = new TestTabletBrowser();
  const folder = mkdtempSync(join(tmpdir(), 'lehrbook-chart-'));
  try {
    let page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
    await takeIn(page, folder, rows, days);
    const open_ms: number[] = [];
    const plain_ms: number[] = [];
    const coldStart = async (path: string, drawn: string): Promise<number> => {
      await tablet.close();
      page = await tablet.open();
      await page.waitForTimeout(BROWSER_RESTS_MS);
      await throttle(page, rate);
      await page.addInitScript(watchFor, drawn);
      await page.goto(`${server.address}${path}`);
      const stands = await page.waitForFunction(
        () => (globalThis as unknown as { stands?: number }).stands ?? false,
        undefined,
        { timeout: 120_000 },
      );
      return (await stands.jsonValue()) as number;
    };
    for (let run = 0; run < runs; run++) {
      plain_ms.push(await coldStart('/hall', 'h1'));
      open_ms.push(await coldStart('/heat/chart', '.heat-chart[aria-busy="false"] canvas'));
    }
    const frames_ms = await page.evaluate(panAndZoom);
    if (tablet.problems.length > 0) throw new Error(tablet.problems.join('\n'));
    return { samples: rows * CHANNELS.length, days, open_ms, plain_ms, frames_ms };
  } finally {
    await tablet.discard();
    await server.kill();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function takeIn(page: Page, folder: string, rows: number, days: number): Promise<void> {
  const from_ms = Math.floor(Date.now() / HOUR_MS) * HOUR_MS - days * 24 * HOUR_MS;
  const path = join(folder, 'casting.csv');
  const value_C = (at_ms: number) => casting_C((at_ms - from_ms) / HOUR_MS);
  writeFileSync(
    path,
    sampleFile({ channels: CHANNELS, from_ms, rows, step_ms: Math.floor((days * 24 * HOUR_MS) / rows), value_C }),
  );
  await go(page, '/heat/files');
  await page.locator('input[type=file]').setInputFiles(path);
  await page.getByRole('button', { name: 'Read the whole file' }).click();
  await page.getByRole('button', { name: 'Take it in' }).click({ timeout: 120_000 });
  await page.getByText('casting.csv is in the log').waitFor({ timeout: 120_000 });
}

/** In the page: the first frame in which what is wanted stands. */
function watchFor(drawn: string): void {
  const look = () => {
    if (document.querySelector(drawn)) Object.assign(globalThis, { stands: performance.now() });
    else requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}

/** In the page: a wheel that zooms in, pans and zooms out, a step a frame, for three seconds. */
function panAndZoom(): Promise<number[]> {
  const over = document.querySelector<HTMLElement>('.heat-chart-over')!;
  const box = over.getBoundingClientRect();
  const wheel = (deltaX: number, deltaY: number) =>
    over.dispatchEvent(
      new WheelEvent('wheel', { deltaX, deltaY, clientX: box.left + box.width / 2, cancelable: true, bubbles: true }),
    );
  return new Promise((resolve) => {
    const frames: number[] = [];
    const start = performance.now();
    let before = start;
    const frame = (now: number) => {
      if (now > before) frames.push(now - before);
      before = now;
      const share = (now - start) / 3000;
      if (share >= 1) return resolve(frames);
      if (share < 0.35) wheel(0, -16);
      else if (share < 0.65) wheel(24, 0);
      else wheel(0, 16);
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  });
}

/** The frame times of one run, in words. */
export function chartWords({ samples, days, open_ms, plain_ms, frames_ms }: ChartTimes, rate: number): string {
  const within = frames_ms.filter((f) => f <= 33.4).length / frames_ms.length;
  return [
    `${samples} samples of ${CHANNELS.length} channels over ${days} days, processor slowed ${rate} times:`,
    `the chart stands ${percentile(open_ms, 0.5).toFixed(0)} ms after a cold start (median of ${open_ms.length}; ${open_ms.map((t) => t.toFixed(0)).join(', ')}),`,
    `a screen that draws next to nothing stands after ${percentile(plain_ms, 0.5).toFixed(0)} ms (${plain_ms.map((t) => t.toFixed(0)).join(', ')}),`,
    `${(within * 100).toFixed(1)} % of ${frames_ms.length} frames come within 33 ms, 95th percentile ${percentile(frames_ms, 0.95).toFixed(1)} ms, longest ${Math.max(...frames_ms).toFixed(0)} ms.`,
  ].join('\n');
}
