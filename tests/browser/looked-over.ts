import type { Page } from 'playwright-core';
import { violationsIn } from './axe.ts';
import { sizes } from './harness.ts';
import { layoutFaults, setTheme, themes } from './screens.ts';

/** Portrait comes last: what it shows stands mostly on one of the others too. */
const ORDER = ['landscape', 'phone', 'portrait'] as const;

/**
 * What a person would trip over on a screen as it stands: sizes, cut-off text and sideways scroll at each of the three
 * sizes, and what axe finds. Themes differ in nothing but their colours, so the second is looked at for contrast alone.
 * axe looks at landscape and at the phone, and at a size further on where it shows something that none before it did:
 * everything that is shown is looked at in both themes. The page is not loaded again, as on a tablet that is turned.
 */
export async function faultsIn(page: Page): Promise<string[]> {
  const faults: string[] = [];
  await page.evaluate(() => {
    (globalThis as LookedOver).lookedOver = new WeakSet();
  });
  for (const size of ORDER) {
    const note = (theme: string, found: readonly string[]) =>
      faults.push(...found.map((fault) => `${size} ${theme}: ${fault}`));
    const [light, dark] = themes;
    await page.setViewportSize(sizes[size]);
    await setTheme(page, light);
    await drawn(page);
    note(light, await layoutFaults(page));
    const fresh = await showsMore(page);
    if (fresh || size === 'phone') note(light, await violationsIn(page));
    if (!fresh) continue;
    await setTheme(page, dark);
    await drawn(page);
    note(dark, await violationsIn(page, ['color-contrast']));
  }
  await setTheme(page, themes[0]);
  await page.setViewportSize(sizes.landscape);
  return faults;
}

interface LookedOver {
  lookedOver?: WeakSet<Element>;
}

/** Whether something is shown that was not shown when this was last asked; from now on it was. */
const showsMore = (page: Page): Promise<boolean> =>
  page.evaluate(() => {
    const looked = (globalThis as LookedOver).lookedOver!;
    const shown = [...document.querySelectorAll('*')].filter((e) => e.checkVisibility());
    const fresh = shown.filter((e) => !looked.has(e));
    for (const e of fresh) looked.add(e);
    return fresh.length > 0;
  });

/** Waits until a new size or theme is drawn: what is laid out again after a frame, and what moves and then stops. */
export const drawn = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    for (let frame = 0; frame < 3; frame++) await new Promise((done) => requestAnimationFrame(done));
    const stopping = document.getAnimations().filter((a) => a.effect?.getComputedTiming().iterations !== Infinity);
    await Promise.all(stopping.map((a) => a.finished.catch(() => undefined)));
  });
