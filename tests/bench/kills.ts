import type { Page } from 'playwright-core';
import { randomOf } from '../../shared/practice/random.ts';
import { TestTabletBrowser } from '../browser/harness.ts';
import type { Lab } from './lab.ts';

export type Moment = 'saving' | 'sealing' | 'rebuilding';

export interface Kills {
  readonly moment: Moment;
  readonly kills: number;
  /** Entries that the page had told as saved before it was killed. */
  readonly told: number;
  /** How many of them came between the beginning and the end of the act, as far as the page had told. */
  readonly inTheMiddle: number;
  readonly lost: readonly string[];
  /** How often the browser came back without its database: nothing of ours can bring that back but another tablet. */
  readonly thrownAway: number;
  readonly faults: readonly string[];
}

interface Api {
  begin(): Promise<string>;
  found(casting: string): Promise<{ hashes: string[]; faults: string[]; damaged: number } | null>;
  saving(casting: string): Promise<void>;
}

/** Longest time from the beginning of the act to the kill. */
const LONGEST_MS = 250;

/**
 * Kills a real browser, all its processes by their ids and without a word, so many times in the middle of an act, and
 * looks after each what its storage still holds of what had been told as saved.
 */
export async function killed(lab: Lab, moment: Moment, kills: number, seed: string): Promise<Kills> {
  const random = randomOf(seed, moment);
  const tablet = new TestTabletBrowser();
  const told = new Set<string>();
  const lost = new Set<string>();
  const faults = new Set<string>();
  let inTheMiddle = 0;
  let thrownAway = 0;
  let toldBefore = 0;
  let casting: string | null = null;
  for (let n = 0; n <= kills; n++) {
    const page = await tablet.open();
    let begun = false;
    let inside = false;
    page.on('console', (message) => {
      const text = message.text();
      if (text.startsWith('saved ')) for (const hash of text.slice(6).split(' ')) told.add(hash);
      if (text === `${moment} begins`) begun = inside = true;
      if (text === `${moment} ends`) inside = false;
    });
    await page.goto(lab.app('/bench/kill-page.html'));
    await page.waitForFunction(() => 'kill' in globalThis);
    casting ??= await page.evaluate(() => (globalThis as unknown as { kill: Api }).kill.begin());
    const now = await look(page, casting);
    if (now) {
      const here = new Set(now.hashes);
      for (const hash of told) if (!here.has(hash)) lost.add(hash);
      for (const fault of now.faults) faults.add(fault);
      if (now.damaged > 0) faults.add(`${now.damaged} places damaged`);
    } else {
      thrownAway += 1;
      toldBefore += told.size;
      told.clear();
      casting = await page.evaluate(() => (globalThis as unknown as { kill: Api }).kill.begin());
    }
    if (n === kills) break;
    void page
      .evaluate(
        ([id, act]) => (globalThis as unknown as { kill: Record<Moment, (id: string) => void> }).kill[act](id),
        [casting, moment] as const,
      )
      .catch(() => undefined);
    await begins(page, () => begun);
    await new Promise((resolve) => setTimeout(resolve, random.uniform() * LONGEST_MS));
    await tablet.kill();
    if (inside) inTheMiddle += 1;
  }
  await tablet.discard();
  return { moment, kills, told: toldBefore + told.size, inTheMiddle, lost: [...lost], thrownAway, faults: [...faults] };
}

/** The first opening after a kill can fail while the browser puts its own files right: people open it again. */
async function look(page: Page, casting: string): ReturnType<Api['found']> {
  const found = () => page.evaluate((id) => (globalThis as unknown as { kill: Api }).kill.found(id), casting);
  return found().catch(async () => {
    await page.reload();
    await page.waitForFunction(() => 'kill' in globalThis);
    return found();
  });
}

async function begins(page: Page, begun: () => boolean): Promise<void> {
  while (!begun()) await page.waitForEvent('console', { timeout: 60_000 });
}
