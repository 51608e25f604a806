import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sizes, TestServer, TestTabletBrowser } from './harness.ts';
import { layoutFaults, screens, setTheme, show, themes } from './screens.ts';
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

  it('showed no error on the way', () => {
    expect(tablet.problems).toEqual([]);
  });
});

async function faultsOf(page: Page, screen: (typeof screens)[number]): Promise<string[]> {
  await page.setViewportSize(sizes.landscape);
  await show(page, screen);
  return faultsIn(page);
}

/** Themes differ in nothing but their colours: the second is looked at for contrast alone. */
const axeFor = (page: Page, theme: (typeof themes)[number]): AxeBuilder =>
  theme === themes[0] ? new AxeBuilder({ page }) : new AxeBuilder({ page }).withRules(['color-contrast']);

/** At each size and theme; the screen stays, as on a tablet that is turned. */
async function faultsIn(page: Page): Promise<string[]> {
  const faults: string[] = [];
  for (const [size, box] of Object.entries(sizes)) {
    await page.setViewportSize(box);
    for (const theme of themes) {
      await setTheme(page, theme);
      await page.waitForTimeout(150);
      const { violations } = await axeFor(page, theme).analyze();
      const found = [
        ...(await layoutFaults(page)),
        ...violations.map(
          (v) =>
            `${v.id}: ${v.nodes
              .slice(0, 3)
              .map((n) => n.html.slice(0, 160))
              .join(' | ')}`,
        ),
      ];
      faults.push(...found.map((f) => `${size} ${theme}: ${f}`));
    }
  }
  return faults;
}
