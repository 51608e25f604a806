import type { CDPSession, Page } from 'playwright-core';
import { TestTabletBrowser } from '../browser/harness.ts';
import { moveAround } from './core-map.ts';
import { importCores } from './import-cores.ts';
import { type Lab, percentile, throttle } from './lab.ts';

export interface SurveyScreensWanted {
  readonly blank_diameter_mm: number;
  readonly wall: { readonly angles: number; readonly heights: number };
  /** How many stations of each characteristic are measured; left out: all. */
  readonly measured?: number;
  readonly slowed: number;
  readonly seconds: number;
}

/** From the tap to the frame that shows it, ms: first time after the app was opened, and again. */
export interface ScreenTimes {
  readonly name: string;
  readonly first_ms: number;
  readonly again_ms: number;
  /** The same for all that fills in later: figures that are counted a few in each frame. */
  readonly whole_first_ms: number;
  readonly whole_again_ms: number;
  /** Of the first time: what the page's main thread itself worked, whoever else wanted the processor. */
  readonly work_ms: number;
}

export interface SurveyScreensTimes {
  readonly cores: number;
  readonly entries: number;
  readonly screens: readonly ScreenTimes[];
  readonly frames: number;
  readonly frame_p50_ms: number;
  readonly frame_p95_ms: number;
  readonly frame_most_ms: number;
  /** Share of frames that came within 33 ms. */
  readonly in_time: number;
}

interface ScreenOf {
  readonly name: string;
  /** Goes there by a link, or by a button that stands on the screen before. */
  readonly path?: string;
  readonly button?: string;
  /** What stands anew, or with other words than before, once it is open. */
  readonly stands: string;
  /** A figure that is a dash until everything is counted. */
  readonly whole?: string;
}

const COUNTED = '.cores-legend b';
const MAP = '.core-map canvas';

export const SCREENS: readonly ScreenOf[] = [
  { name: 'List of surveys', path: '/survey', stands: '.survey-group' },
  { name: 'Tub survey, radii before', path: '/survey/2.4/tub-radius', stands: '.wall-sheet' },
  { name: 'Tub survey after the preheat, polar plot', path: '/survey/5.1/tub-diameter-20', stands: '.round-sheet svg' },
  { name: 'Change of the tub', path: '/change/5.1/tub-diameter-20', stands: '.change-drawing' },
  { name: 'Map of the cores, all layers', path: '/survey/7.2/cores', stands: MAP, whole: COUNTED },
  { name: 'One core: another is chosen', button: '.core-seven button', stands: '.core-panel h2' },
  { name: 'Range entry', button: '.core-acts button', stands: '.check-range' },
  { name: 'Map of the gaps before', path: '/survey/6.3/core-gap', stands: MAP, whole: COUNTED },
  { name: 'Map of the gaps after', path: '/survey/7.2/core-gap', stands: MAP, whole: COUNTED },
  { name: 'Map of the tops before', path: '/survey/6.4/core-top-height', stands: MAP, whole: COUNTED },
  { name: 'Map of the tops after', path: '/survey/7.2/core-top-height', stands: MAP, whole: COUNTED },
  { name: 'Change of the tops in the bake', path: '/change/7.2/core-top-height', stands: '.change-drawing' },
  { name: 'Change of the height, worked out', path: '/survey/7.2/core-height-change', stands: '.station-list, .sheet' },
  { name: 'Findings', path: '/findings', stands: '.findings-head' },
  { name: 'Hold point before the bake', path: '/hold/H04', stands: '.hold-work' },
  { name: 'Hold point before loading', path: '/hold/H05', stands: '.hold-work' },
];

const BEFORE_AND_AFTER = [
  ['2.4', 'tub-radius', 'tub-diameter-20'],
  ['5.1', 'tub-radius', 'tub-diameter-20'],
  ['6.2', 'core-across-flats', 'core-height-received', 'core-mass'],
  ['6.3', 'pin-pull', 'core-position', 'core-gap'],
  ['6.4', 'core-top-height', 'core-gap', 'core-to-liner'],
  ['7.2', 'core-top-height', 'core-gap', 'core-to-liner'],
] as const;

/** How fast each screen of the surveys opens on a casting with all of its stations read, before and after. */
export async function surveyScreenTimes(lab: Lab, wanted: SurveyScreensWanted): Promise<SurveyScreensTimes> {
  const tablet = new TestTabletBrowser();
  try {
    const page = await tablet.open();
    page.setDefaultTimeout(900_000);
    const made = await importAll(lab, page, wanted);
    await page.goto(lab.app('/survey'));
    await page.locator('.survey-group').first().waitFor();
    // Code that is not here yet is not what is measured: the worker brings all of it on the first visit.
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    // Setup waits until the log is read, and asks nothing of it.
    await page.goto(lab.app('/setup'));
    await page.getByRole('heading', { level: 1, name: 'Setup' }).waitFor();
    await throttle(page, wanted.slowed);
    const session = await page.context().newCDPSession(page);
    await session.send('Performance.enable', { timeDomain: 'threadTicks' });
    const first = await openAll(page, session);
    const again = await openAll(page, session);
    await open(page, SCREENS.find((s) => s.path === '/survey/6.3/core-gap')!);
    const gaps = await moveAround(page, wanted.seconds);
    return {
      ...made,
      screens: SCREENS.map(({ name }, i) => ({
        name,
        first_ms: first[i]!.opened,
        again_ms: again[i]!.opened,
        whole_first_ms: first[i]!.whole,
        whole_again_ms: again[i]!.whole,
        work_ms: first[i]!.work,
      })),
      frames: gaps.length,
      frame_p50_ms: percentile(gaps, 0.5),
      frame_p95_ms: percentile(gaps, 0.95),
      frame_most_ms: Math.max(...gaps),
      in_time: gaps.filter((gap) => gap <= 33.4).length / gaps.length,
    };
  } finally {
    await tablet.discard();
  }
}

function importAll(
  lab: Lab,
  page: Page,
  { blank_diameter_mm, wall, measured }: SurveyScreensWanted,
): Promise<{ cores: number; entries: number }> {
  return importCores(lab, page, {
    blank_diameter_mm,
    wall,
    measured: BEFORE_AND_AFTER.flatMap(([operation, ...characteristics]) =>
      characteristics.map((characteristic) => ({ operation, characteristic, first: measured })),
    ),
    finished: ['7.2'],
  });
}

interface Opened {
  readonly opened: number;
  readonly whole: number;
}

/** Of the page's main thread since it began, ms of processor. */
async function workOf(session: CDPSession): Promise<number> {
  const { metrics } = await session.send('Performance.getMetrics');
  return 1000 * metrics.find((m) => m.name === 'TaskDuration')!.value;
}

async function openAll(page: Page, session: CDPSession): Promise<(Opened & { work: number })[]> {
  const times: (Opened & { work: number })[] = [];
  for (const screen of SCREENS) {
    const before = await workOf(session);
    const took = await open(page, screen);
    times.push({ ...took, work: (await workOf(session)) - before });
    if (screen.name === 'Range entry') await page.keyboard.press('Escape');
  }
  return times;
}

export async function open(page: Page, screen: ScreenOf): Promise<Opened> {
  await page.evaluate(watch, screen);
  const took = await page.waitForFunction(
    () => (globalThis as unknown as { watched: Opened | null }).watched ?? false,
    undefined,
    { polling: 50, timeout: 120_000 },
  );
  return took.jsonValue() as Promise<Opened>;
}

/** In the page: taps, and notes when the first frame with the screen was painted, and the first with all of it. */
function watch({ path, button, stands, whole }: ScreenOf): void {
  Object.assign(globalThis, { watched: null });
  const old = new Map([...document.querySelectorAll(stands)].map((e) => [e, e.textContent]));
  const isNew = (e: Element) => !old.has(e) || old.get(e) !== e.textContent;
  const link = document.createElement('a');
  if (path !== undefined) link.href = path;
  const tapped = path === undefined ? document.querySelector<HTMLElement>(button!)! : link;
  document.body.append(link);
  let opened = 0;
  const from = performance.now();
  const look = () => {
    const stood = [...document.querySelectorAll(stands)].some(isNew);
    const all = stood && (whole === undefined || document.querySelector(whole)?.textContent !== '–');
    if (!stood || (opened > 0 && !all)) return void requestAnimationFrame(look);
    // A message comes after the frame that is being made has been painted.
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      const took = performance.now() - from;
      opened ||= took;
      if (all) Object.assign(globalThis, { watched: { opened, whole: took } });
      else requestAnimationFrame(look);
    };
    port2.postMessage(null);
  };
  tapped.click();
  link.remove();
  requestAnimationFrame(look);
}
