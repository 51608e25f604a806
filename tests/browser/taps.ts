import type { Locator, Page } from 'playwright-core';

const KEY = 'taps of this test';

/**
 * Counts every touch of a hand on the pages from now on, over reloads too: buttons, links, and the tap that brings a
 * field into focus. Only the keys of the PIN pad do not count.
 * @returns the count so far, of all pages together
 */
export async function countTaps(...pages: Page[]): Promise<() => Promise<number>> {
  const listen = (key: string) => {
    // A page that is counted again, and one that is reloaded, hears each tap once.
    if ((globalThis as { tapsHeard?: boolean }).tapsHeard) return;
    Object.assign(globalThis, { tapsHeard: true });
    addEventListener(
      'pointerdown',
      (event) => {
        if (!event.isTrusted || (event.target as Element).closest('.pin-pad')) return;
        sessionStorage.setItem(key, String(Number(sessionStorage.getItem(key) ?? 0) + 1));
      },
      { capture: true },
    );
  };
  for (const page of pages) {
    await page.evaluate((key) => sessionStorage.setItem(key, '0'), KEY);
    await page.addInitScript(listen, KEY);
    await page.evaluate(listen, KEY);
  }
  return async () => {
    let sum = 0;
    for (const page of pages) sum += Number(await page.evaluate((key) => sessionStorage.getItem(key), KEY));
    return sum;
  };
}

/** A tap into a field, then free text: the tap counts, the text does not. */
export async function tapAndType(page: Page, field: Locator, text: string): Promise<void> {
  await field.click();
  await page.keyboard.type(text);
}
