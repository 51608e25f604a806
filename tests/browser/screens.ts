import type { Page } from 'playwright-core';
import { sampleFile } from '../logger/sample-file.ts';
import { addPhoto, picture, take } from './pictures.ts';

/** Every screen of the practice casting, by the name that its picture takes. */
export const screens: readonly { name: string; path: string; prepare?: (page: Page) => Promise<void> }[] = [
  { name: 'now', path: '/' },
  { name: 'sequence', path: '/sequence' },
  { name: 'sequence-weeks', path: '/sequence', prepare: (page) => page.getByText('3 weeks').click() },
  { name: 'sequence-list', path: '/sequence?as=all' },
  { name: 'sequence-open', path: '/sequence?as=open' },
  { name: 'operation', path: '/sequence/5.1' },
  { name: 'operation-done', path: '/sequence/2.4' },
  { name: 'operation-ahead', path: '/sequence/9.2' },
  { name: 'surveys', path: '/survey' },
  { name: 'survey-tub', path: '/survey/5.1/tub-diameter-20' },
  { name: 'survey-tub-radius', path: '/survey/5.1/tub-radius' },
  { name: 'survey-floor', path: '/survey/5.1/floor-level' },
  { name: 'survey-single', path: '/survey/4.1/preheat-peak' },
  { name: 'cores', path: '/survey/6.2/cores' },
  { name: 'cores-list', path: '/survey/6.3/cores?core=2.5', prepare: (page) => page.getByText('List').click() },
  { name: 'cores-look', path: '/survey/6.3/cores?core=2.5', prepare: (page) => press(page, /^Look/) },
  { name: 'cores-change', path: '/survey/6.3/cores?core=2.5', prepare: (page) => press(page, 'Change the core') },
  { name: 'survey-gaps', path: '/survey/6.3/core-gap?station=2.5-2.6%40top' },
  { name: 'survey-pins', path: '/survey/6.3/pin-pull?station=3.4' },
  { name: 'survey-sample', path: '/survey/6.2/core-squareness', prepare: (page) => press(page, /^Sample/) },
  {
    name: 'survey-paste',
    path: '/survey/6.3/pin-pull?station=3.4',
    prepare: (page) => press(page, 'Paste or file'),
  },
  { name: 'round', path: '/furnace/4.1/round' },
  {
    name: 'missed-round',
    path: '/furnace',
    prepare: (page) => page.getByRole('button', { name: 'Give reason' }).first().click(),
  },
  { name: 'survey-measured', path: '/survey/5.1/tub-diameter-20?station=7.5%4040' },
  {
    name: 'survey-pass',
    path: '/survey/5.1/tub-diameter-20?station=97.5%40380',
    prepare: (page) => press(page, /Instrument, observer and paper/),
  },
  { name: 'batch-change', path: '/change/5.1/tub-diameter-20' },
  { name: 'furnace', path: '/furnace' },
  { name: 'heat-chart', path: '/heat/chart' },
  {
    name: 'heat-chart-read',
    path: '/heat/chart',
    prepare: async (page) => {
      await page.getByRole('button', { name: 'This heat' }).click();
      await page.locator('.heat-chart').press('Enter');
    },
  },
  { name: 'heat-plan', path: '/heat/plan/P1' },
  {
    name: 'heat-plan-anneal',
    path: '/heat/plan/P4?segment=3',
    prepare: (page) => page.getByLabel(/^Rate, up or down/).fill('0.3'),
  },
  { name: 'heat-channel', path: '/heat/channel/CR-2' },
  {
    name: 'heat-corrections',
    path: '/heat/channel/CR-2',
    prepare: (page) => press(page, 'Enter corrections'),
  },
  { name: 'logger-files', path: '/heat/files' },
  { name: 'logger-mapping', path: '/heat/files', prepare: chooseLoggerFile },
  {
    name: 'logger-report',
    path: '/heat/files',
    prepare: async (page) => {
      await chooseLoggerFile(page);
      await page.getByLabel(/^Clock of the logger/).selectOption('UTC');
      await page.getByLabel(/^Order of the date/).selectOption('dmy');
      await press(page, 'Read the whole file');
      await page.getByRole('heading', { name: 'What it gives' }).waitFor();
    },
  },
  { name: 'melt-empty', path: '/furnace/10.1/melt' },
  { name: 'spin-empty', path: '/furnace/10.1/spin' },
  { name: 'raise', path: '/sequence/5.1', prepare: (page) => press(page, 'Raise a finding') },
  { name: 'photos', path: '/sequence/2.4', prepare: takePhotos },
  { name: 'photo-form', path: '/sequence/2.4', prepare: photoForm },
  { name: 'photo-viewer', path: '/sequence/2.4', prepare: photoViewer },
  { name: 'hold-released', path: '/hold/H01' },
  { name: 'hold-in-doubt', path: '/hold/H02' },
  { name: 'hold-open', path: '/hold/H03' },
  { name: 'hold-far', path: '/hold/H12' },
  { name: 'findings', path: '/findings' },
  { name: 'finding', path: '/findings', prepare: (page) => page.locator('main a[href^="/findings/"]').first().click() },
  { name: 'decide', path: '/findings', prepare: decideForm },
  {
    name: 'concession',
    path: '/findings',
    prepare: async (page) => {
      await decideForm(page);
      await page.getByRole('radio', { name: /^concession/ }).check({ force: true });
      await page.getByLabel('On what date').scrollIntoViewIfNeeded();
    },
  },
  {
    name: 'witness-form',
    path: '/hold/H05',
    prepare: async (page) => {
      await press(page, 'Witness');
      await page.getByLabel('The witness was told earlier than now').check();
    },
  },
  { name: 'handover', path: '/handover' },
  { name: 'handover-item', path: '/handover', prepare: (page) => press(page, /Findings/) },
  { name: 'handover-prepare', path: '/handover?again' },
  { name: 'record', path: '/record' },
  { name: 'entry', path: '/record', prepare: (page) => page.locator('main a[href^="/record/"]').first().click() },
  { name: 'arrangements', path: '/arrangements' },
  { name: 'arrangement-form', path: '/arrangements?new=channel' },
  {
    name: 'arrangement',
    path: '/arrangements',
    prepare: (page) => page.locator('main a[href^="/arrangements/"]').first().click(),
  },
  { name: 'arrangement-extend', path: '/arrangements', prepare: (page) => openArrangement(page, /^Extend it/) },
  { name: 'arrangement-end', path: '/arrangements', prepare: (page) => openArrangement(page, /^End it$/) },
  { name: 'hall', path: '/hall' },
  { name: 'hall-overlay', path: '/', prepare: (page) => press(page, 'Emergency') },
  { name: 'setup-hall', path: '/setup?part=hall' },
  { name: 'setup', path: '/setup' },
  { name: 'setup-instruments', path: '/setup?part=instruments' },
  { name: 'instrument-form', path: '/setup?part=instruments', prepare: (page) => press(page, /Add an instrument/) },
  {
    name: 'instrument-bad',
    path: '/setup?part=instruments',
    prepare: async (page) => {
      await page.locator('.setup-list .rows button').first().click();
      await press(page, 'It was found bad');
    },
  },
  { name: 'setup-tablets', path: '/setup?part=tablets' },
  { name: 'setup-server', path: '/setup?part=tablets&show=server' },
  {
    name: 'tablet-chosen',
    path: '/setup?part=tablets',
    prepare: (page) => press(page, /Furnace tablet/),
  },
  { name: 'person-form', path: '/setup?part=people', prepare: (page) => press(page, /Milo Quist/) },
  { name: 'join', path: '/start?step=join' },
  { name: 'setup-tablet', path: '/setup?part=tablet' },
  { name: 'setup-looks', path: '/setup?part=looks' },
  { name: 'setup-castings', path: '/setup?part=castings' },
  { name: 'plan', path: '/plan' },
  { name: 'plan-change', path: '/plan/change?item=characteristics/tub-diameter-20' },
  { name: 'plan-preview', path: '/plan/change', prepare: planPreview },
  {
    name: 'plan-revision',
    path: '/plan',
    prepare: (page) => page.getByRole('link', { name: 'Read the plan' }).click(),
  },
  { name: 'start', path: '/start' },
  { name: 'design', path: '/start?step=design' },
  { name: 'sign', path: '/hold/H02', prepare: (page) => press(page, 'Sign again') },
  { name: 'pin', path: '/hold/H02', prepare: pinPad },
  { name: 'who', path: '/', prepare: (page) => page.locator('button.title-clock').click() },
  {
    name: 'refuse',
    path: '/hold/H03',
    prepare: (page) => page.getByRole('button', { name: 'Refuse, with reason' }).click(),
  },
  { name: 'strike', path: '/record', prepare: strikeForm },
];

const press = (page: Page, name: string | RegExp): Promise<void> => page.getByRole('button', { name }).first().click();

/** A file with a row and values that are not taken. */
async function chooseLoggerFile(page: Page): Promise<void> {
  const text = sampleFile({
    channels: ['BP-0', 'BP-1', 'FC-3', 'door'],
    from_ms: Date.UTC(2026, 2, 4),
    rows: 300,
    step_ms: 60_000,
    value_C: () => 431,
    dates: 'dmy',
  });
  const lines = text.split('\r\n');
  lines[5] = lines[5]!.replace(/;.*/, ';NaN;9999;431,2;1');
  lines[20] = 'gestern;1;2;3;4';
  await page
    .locator('input[type=file]')
    .setInputFiles({ name: 'march.csv', mimeType: 'text/csv', buffer: Buffer.from(lines.join('\r\n')) });
  await page.getByRole('button', { name: 'Read the whole file' }).waitFor();
}

const ARM = 'Arm in use';

/** Two photos of an operation that is done; once, whatever screens come before. */
async function takePhotos(page: Page): Promise<void> {
  const line = page.getByRole('list', { name: ARM });
  if ((await line.count()) === 0) {
    for (const turn of [1, 2])
      await addPhoto(page, `Add photo: ${ARM}`, await picture(page, 1600, 1200, turn), 'Station 90°, from the gate');
  }
  await line.locator('img').nth(1).waitFor();
  await page.locator('#photos').scrollIntoViewIfNeeded();
}

async function photoForm(page: Page): Promise<void> {
  const name = /^Add photo: Any worst station/;
  await press(page, name);
  if ((await page.locator('dialog[open] .photo-small').count()) === 0)
    await take(page, await picture(page, 1600, 1200, 3));
}

async function photoViewer(page: Page): Promise<void> {
  await takePhotos(page);
  await page.locator('.photo-open').first().click();
  await page.locator('.photo-whole img[src^="blob:"]').waitFor();
}

async function openArrangement(page: Page, name: string | RegExp): Promise<void> {
  await page.locator('main a[href^="/arrangements/"]').first().click();
  await press(page, name);
}

async function decideForm(page: Page): Promise<void> {
  await page.locator('main a[href^="/findings/"]').first().click();
  await press(page, 'Decide what becomes of it');
}

async function pinPad(page: Page): Promise<void> {
  await press(page, 'Sign again');
  await page.locator('dialog[open] input[type=radio]').first().check({ force: true });
  await press(page, /^Sign with PIN/);
  await page.locator('.pin-field').waitFor();
}

async function planPreview(page: Page): Promise<void> {
  await page.getByLabel('Characteristic').selectOption('characteristics/tub-diameter-20');
  await page.getByLabel('Upper limit').fill('3217.5');
  await page.getByLabel('Reason for the revision').fill('The liner was ordered thicker.');
  await press(page, 'See what it would do');
  await page.getByRole('heading', { name: 'Open work judged anew' }).waitFor();
}

async function strikeForm(page: Page): Promise<void> {
  await page.getByLabel('Kind').selectOption('note');
  await page.locator('main a[href^="/record/"]').first().click();
  await page.getByRole('button', { name: /^Strike it out/ }).click();
}

/** Goes to a screen inside the app, as a tap would, and waits until it stands. */
export async function show(page: Page, screen: (typeof screens)[number]): Promise<void> {
  await page.goto(new URL(screen.path, page.url()).href);
  await page.locator('h1').waitFor();
  await settled(page);
  await screen.prepare?.(page);
  await settled(page);
}

/** Waits for lazy parts, fonts and the calculations that judge again. */
export async function settled(page: Page): Promise<void> {
  await page.evaluate(() => document.fonts.ready);
  await page.waitForLoadState('networkidle').catch(() => undefined);
  await page.waitForTimeout(250);
}

export const themes = ['light', 'dark'] as const;

export async function setTheme(page: Page, theme: (typeof themes)[number]): Promise<void> {
  await page.emulateMedia({ colorScheme: theme, reducedMotion: 'reduce' });
}

/** What a person at this size would trip over: sideways scroll, small targets, cut-off text. */
export async function layoutFaults(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const faults: string[] = [];
    const root = document.scrollingElement!;
    if (root.scrollWidth > window.innerWidth + 1) faults.push(`the page is ${root.scrollWidth} px wide`);
    const dialog = document.querySelector('dialog[open]');
    const scope: ParentNode = dialog ?? document;
    const seen = (e: Element) => {
      const box = e.getBoundingClientRect();
      const style = getComputedStyle(e);
      return box.width > 1 && box.height > 1 && style.visibility !== 'hidden' && style.display !== 'none';
    };
    const scrolls = (e: Element): boolean =>
      e.parentElement !== null && (/auto|scroll/.test(getComputedStyle(e).overflowX) || scrolls(e.parentElement));
    const nameOf = (e: Element) =>
      `${e.tagName.toLowerCase()}.${e.className} "${(e.textContent ?? '').trim().slice(0, 40)}"`;
    const targets = scope.querySelectorAll(
      'a[href], button, select, textarea, summary, input:not([type=radio]):not([type=checkbox]), label:has(input[type=radio]), label:has(input[type=checkbox])',
    );
    for (const target of targets) {
      if (!seen(target) || target.matches('.skip') || target.closest('[inert]')) continue;
      // A field in a frame of its own is tapped through its label.
      const tapped = target.matches('input')
        ? (target.closest('label.field, label.condition, .figure-input') ?? target)
        : target;
      const { width, height } = tapped.getBoundingClientRect();
      if (width < 55.5 || height < 55.5)
        faults.push(`target ${nameOf(target)} is ${width.toFixed(0)} × ${height.toFixed(0)} px`);
    }
    for (const e of scope.querySelectorAll('*')) {
      if (!(e instanceof HTMLElement) || !seen(e) || e.childElementCount > 0 || !e.textContent?.trim()) continue;
      const style = getComputedStyle(e);
      // Moved out of sight on purpose: the steel rule names only this stage and the next on small screens.
      if (e.closest('.hidden-text, svg, option, .skip') || Number.parseFloat(style.textIndent) < -50) continue;
      if (style.overflowX !== 'visible' && style.overflowX !== 'auto' && e.scrollWidth > e.clientWidth + 1)
        faults.push(`cut off: ${nameOf(e)}`);
      const right = e.getBoundingClientRect().right;
      if (right > window.innerWidth + 1 && !scrolls(e)) faults.push(`beyond the right edge: ${nameOf(e)}`);
    }
    return [...new Set(faults)];
  });
}
