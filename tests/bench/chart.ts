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
  /** Channels on the chart. */
  readonly lines: number;
  /** From the navigation in a browser just started until the chart as it was kept is drawn, ms. */
  readonly kept_ms: readonly number[];
  /** The same until log and samples are read and the chart is drawn from them. */
  readonly read_ms: readonly number[];
  /** What the page's main thread worked until then, ms: other programs of the machine change it little. */
  readonly keptWork_ms: readonly number[];
  /** What it worked for a frame of those, ms. */
  readonly frameWork_ms: number;
  /** Between the frames of three seconds of pan and zoom, ms. */
  readonly frames_ms: readonly number[];
}

/** What a run measures the chart of. */
export interface ChartOf {
  /** Fills a tablet that has been opened. */
  readonly fill: (page: Page, folder: string) => Promise<void>;
  readonly samples: number;
  readonly days: number;
}

const HOUR_MS = 3_600_000;
const { heatPlans } = buildPlan(practiceDesign);
const CHANNELS = ['BP', 'FC'].flatMap((group) => [0, 1, 2, 3, 4, 5, 6].map((n) => `${group}-${n}`));
/** A browser of a desk builds its own windows first. */
const BROWSER_RESTS_MS = 2_000;
/** What is worked out in idle time after a start is done by then. */
const BACKGROUND_MS = 6_000;

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

/** The practice casting at the end of its cool-down, as it opens: every heat, with the record of its logger. */
export const wholeCasting: ChartOf = {
  fill: async (page) => {
    await page.getByRole('button', { name: 'Open it at the end of the cool-down' }).click();
    await page.getByRole('heading', { level: 1, name: 'Now' }).waitFor({ timeout: 180_000 });
  },
  // Counted in tests/practice/cool-down-story.test.ts.
  samples: 390_000,
  days: 147,
};

/** The practice casting with a file of so many rows of 14 channels over so many days. */
export const someRows = (rows: number, days: number): ChartOf => ({
  fill: async (page, folder) => {
    await openPractice(page);
    await takeIn(page, folder, rows, days);
  },
  samples: rows * CHANNELS.length,
  days,
});

/**
 * Opens the chart cold, and moves it for three seconds.
 * @param rate how many times slower the page's processor is made
 */
export async function chartTimes(of: ChartOf, runs: number, rate: number): Promise<ChartTimes> {
  const server = await TestServer.start();
  const tablet = new TestTabletBrowser();
  const folder = mkdtempSync(join(tmpdir(), 'lehrbook-chart-'));
  try {
    let page = await tablet.open();
    await page.goto(server.address);
    await of.fill(page, folder);
    await go(page, '/heat/chart');
    const kept_ms: number[] = [];
    const keptWork_ms: number[] = [];
    const read_ms: number[] = [];
    let work_ms: () => Promise<number> = async () => 0;
    const coldStart = async (): Promise<void> => {
      await tablet.close();
      page = await tablet.open();
      await page.waitForTimeout(BROWSER_RESTS_MS);
      await throttle(page, rate);
      work_ms = await workOf(page);
      await page.addInitScript(watchFor, [...WATCHED]);
      await page.goto(`${server.address}/heat/chart`);
    };
    const stands = async (drawn: string): Promise<number> => {
      const at = await page.waitForFunction(
        (name) => (globalThis as unknown as Stands).stands?.[name] ?? false,
        drawn,
        {
          timeout: 120_000,
        },
      );
      return (await at.jsonValue()) as number;
    };
    for (let run = 0; run < runs; run++) {
      await chartKept(page);
      await coldStart();
      kept_ms.push(await stands(DRAWN));
      keptWork_ms.push(await work_ms());
      read_ms.push(await stands(READ));
    }
    const lines = await page.evaluate(() => JSON.parse(localStorage.getItem('kept chart')!).lines.length as number);
    await page.waitForTimeout(BACKGROUND_MS);
    const before_ms = await work_ms();
    const frames_ms = await page.evaluate(panAndZoom);
    const frameWork_ms = ((await work_ms()) - before_ms) / frames_ms.length;
    if (tablet.problems.length > 0) throw new Error(tablet.problems.join('\n'));
    return { samples: of.samples, days: of.days, lines, kept_ms, keptWork_ms, read_ms, frameWork_ms, frames_ms };
  } finally {
    await tablet.discard();
    await server.kill();
    rmSync(folder, { recursive: true, force: true });
  }
}

const DRAWN = '.heat-chart canvas';
const READ = '.heat-chart[aria-busy="false"] canvas';
const WATCHED = [DRAWN, READ];

interface Stands {
  stands?: Record<string, number>;
}

/** Tells how long the page's main thread has worked, in its own time. */
async function workOf(page: Page): Promise<() => Promise<number>> {
  const session = await page.context().newCDPSession(page);
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  return async () => {
    const { metrics } = await session.send('Performance.getMetrics');
    return 1000 * metrics.find((m) => m.name === 'TaskDuration')!.value;
  };
}

/** Until the tablet has kept the chart for its log, samples and all. */
async function chartKept(page: Page): Promise<void> {
  await page.waitForFunction(
    () => {
      const [chart, frame] = ['kept chart', 'first frame'].map((key) =>
        JSON.parse(localStorage.getItem(key) ?? 'null'),
      );
      return chart !== null && chart.stamp === frame?.stamp && document.querySelector('[aria-busy="false"]') !== null;
    },
    undefined,
    { timeout: 120_000, polling: 200 },
  );
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

/** In the page: the first frame in which each of what is watched for stands. */
function watchFor(watched: string[]): void {
  const stands: Record<string, number> = {};
  Object.assign(globalThis, { stands });
  const look = () => {
    for (const drawn of watched)
      if (stands[drawn] === undefined && document.querySelector(drawn)) stands[drawn] = performance.now();
    if (watched.some((drawn) => stands[drawn] === undefined)) requestAnimationFrame(look);
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

/** How many of the frames come within 33 ms. */
const inTime = (frames: readonly number[]): number => frames.filter((f) => f <= 33.4).length / frames.length;

/** What one run found, as a page. */
export function chartPage(times: ChartTimes, rate: number, cores: number): string {
  const { samples, days, lines, kept_ms, keptWork_ms, read_ms, frameWork_ms, frames_ms } = times;
  const row = (what: string, all: readonly number[]) =>
    `| ${what}, median of ${all.length} (all) | ${percentile(all, 0.5).toFixed(0)} ms (${all.map((t) => t.toFixed(0)).join(', ')}) |`;
  return `# Performance of the chart

One run of \`npx tsx tests/bench/run-chart.ts docs/performance-chart.md\` on a shared machine of ${cores} processor cores, Chromium headless and without a graphics processor, the page's processor slowed ${rate} times over its protocol before anything was loaded. Single figures mean little on another machine, and wait for the other programs of this one; the work of the main thread, slowed as it is, does not.

| measure, ${samples} samples over ${days} days, ${lines} channels drawn | figure |
| --- | --- |
${row('cold start until the chart as it was kept is drawn', kept_ms)}
${row('work of the page’s main thread until then', keptWork_ms)}
${row('cold start until log and samples are read and drawn', read_ms)}
| frames within 33 ms, of ${frames_ms.length} in 3 s of zoom, pan and zoom | ${(inTime(frames_ms) * 100).toFixed(1)} % |
| time of a frame, 95th percentile / longest | ${percentile(frames_ms, 0.95).toFixed(1)} / ${Math.max(...frames_ms).toFixed(0)} ms |
| work of the page’s main thread for a frame | ${frameWork_ms.toFixed(1)} ms |

**Cold start**: the browser process was ended; two seconds after it has started again, from the navigation to the first frame in which the chart stands. The kept chart is the one that the tablet thinned when the log had last rested; it says so until log and samples are read, and for another log it is not shown.

**Frames**: a wheel that zooms in, pans and zooms out, a step a frame; the time between one frame and the next.
`;
}
