// Takes a picture of every part, in both themes and the three sizes, and measures what a finger meets.
// Run it by hand: npx tsx tests/browser/gallery-shots.ts <directory> [page ...]
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import { type Browser, chromium, type Page } from 'playwright-core';
import { createServer } from 'vite';

const PAGES = ['strips', 'signs', 'survey', 'forms', 'pin', 'states'];
const SIZES = [
  { width: 1280, height: 800 },
  { width: 800, height: 1280 },
  { width: 390, height: 844 },
];
const THEMES = ['light', 'dark'] as const;
const TARGETS = 'a[href], button, input:not([type=radio]), label:has([type=radio])';

/** Targets less than 56 px wide or high, as "tag.class 40 × 30". Skip links stand outside the page until they are met. */
function smallTargets(page: Page): Promise<string[]> {
  return page.evaluate(
    (selector) =>
      [...document.querySelectorAll<HTMLElement>(selector)]
        .filter((e) => e.checkVisibility() && !e.classList.contains('skip') && !e.closest('.field'))
        .map((e) => ({ e, box: e.getBoundingClientRect() }))
        .filter(({ box }) => box.width < 55.9 || box.height < 55.9)
        .map(({ e, box }) => `${e.tagName}.${e.className} ${Math.round(box.width)} × ${Math.round(box.height)}`),
    TARGETS,
  );
}

/** What sticks out of the page at the right. */
function sticksOut(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

/** In landscape the work scrolls, never the page. */
function pageScrolls(page: Page): Promise<boolean> {
  return page.evaluate(() => document.documentElement.scrollHeight > innerHeight && innerWidth > 1000);
}

async function shoot(browser: Browser, base: string, directory: string, name: string): Promise<string[]> {
  const faults: string[] = [];
  for (const viewport of SIZES) {
    for (const theme of THEMES) {
      const context = await browser.newContext({ viewport, colorScheme: theme });
      const page = await context.newPage();
      page.on('console', (message) => message.type() === 'error' && faults.push(`${name}: ${message.text()}`));
      await page.goto(`${base}/gallery.html?page=${name}`);
      await page.waitForSelector('.app');
      await page.evaluate(() => document.fonts.ready);
      const where = `${name}-${viewport.width}x${viewport.height}-${theme}`;
      await page.screenshot({ path: join(directory, `${where}.png`), fullPage: name !== 'pin' });
      for (const small of await smallTargets(page)) faults.push(`${where}: small target ${small}`);
      const out = await sticksOut(page);
      if (out > 0) faults.push(`${where}: ${out} px stick out`);
      if (await pageScrolls(page)) faults.push(`${where}: the page scrolls`);
      const { violations } = await new AxeBuilder({ page }).analyze();
      for (const { id, nodes } of violations) {
        faults.push(`${where}: axe ${id}: ${nodes.map((node) => node.target.join(' ')).join(' | ')}`);
      }
      await context.close();
    }
  }
  return faults;
}

const [directory, ...wanted] = process.argv.slice(2);
if (!directory) throw new Error('Say where the pictures are to go.');
await mkdir(directory, { recursive: true });
const server = await createServer({ server: { port: 0, host: '127.0.0.1' }, logLevel: 'error' });
await server.listen();
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking'],
});
const base = server.resolvedUrls!.local[0]!.replace(/\/$/, '');
const faults: string[] = [];
for (const name of wanted.length > 0 ? wanted : PAGES) faults.push(...(await shoot(browser, base, directory, name)));
await browser.close();
await server.close();
console.log(faults.length > 0 ? [...new Set(faults)].join('\n') : 'No faults.');
process.exitCode = faults.length > 0 ? 1 : 0;
