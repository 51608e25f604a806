import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sizes, TestServer, TestTabletBrowser } from './harness.ts';
import { faultsIn } from './looked-over.ts';
import { screens, show } from './screens.ts';
import { openPractice } from './steps.ts';

describe('every screen of the practice casting', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  it('stands on an empty tablet', async () => {
    await page.getByRole('heading', { level: 1 }).waitFor();
    expect(await faultsIn(page)).toEqual([]);
  });

  it('opens the practice casting', async () => {
    await page.setViewportSize(sizes.landscape);
    await openPractice(page);
  });

  for (const screen of screens) {
    it(`${screen.name}: no sideways scroll, nothing cut off, targets of 56 px, axe finds nothing`, async () => {
      expect(await faultsOf(page, screen)).toEqual([]);
    });
  }

  it('would find what is planted: faint in portrait alone, faint in the dark, too wide, too small', async () => {
    await show(page, screens[0]!);
    await page.evaluate(() => {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync(`
        .planted-turned { display: none; color: #888; background: #999 }
        @media (width: 800px) { .planted-turned { display: block } }
        @media (prefers-color-scheme: dark) { .planted-dark { color: #333; background: #222 } }
        .planted-wide { width: 1000px }
        .planted-small { width: 40px; min-width: 0 }`);
      document.adoptedStyleSheets = [sheet];
      for (const name of ['turned', 'dark', 'wide', 'small']) {
        const planted = document.createElement(name === 'small' ? 'button' : 'p');
        planted.className = `planted-${name}`;
        planted.textContent = name;
        document.querySelector('main')!.append(planted);
      }
    });
    const faults = (await faultsIn(page)).join('\n');
    expect(faults).toMatch(/portrait light: color-contrast: .*planted-turned/);
    expect(faults).toMatch(/landscape dark: color-contrast: .*planted-dark/);
    expect(faults).not.toMatch(/ light: color-contrast: .*planted-dark/);
    expect(faults).toContain('phone light: beyond the right edge: p.planted-wide "wide"');
    expect(faults).toMatch(/target button\.planted-small "small" is 40 ×/);
  });

  it('showed no error on the way', () => {
    expect(tablet.problems).toEqual([]);
  });
});

async function faultsOf(page: Page, screen: (typeof screens)[number]): Promise<string[]> {
  await page.setViewportSize(sizes.landscape);
  await show(page, screen);
  return faultsIn(page);
}
