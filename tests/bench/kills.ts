import type { Page } from 'playwright-core';
import { randomOf } from '../../shared/practice/random.ts';
import { TestTabletBrowser } from '../browser/harness.ts';
import type { Lab } from './lab.ts';

export type Moment = 'saving' | 'sealing' | 'rebuilding';

export interface Kills {
  readonly moment: Moment;
  /** All of them. */
  readonly kills: number;
  /** How many of them came between the beginning and the end of the act, by what the page had told. */
  readonly inTheMiddle: number;
  /** Entries that the page had told as saved before it was killed. */
  readonly told: number;
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

/** A kill that comes too late is repeated, but no more than so many kills are spent on each that is wanted. */
const TRIES = 4;

/**
 * Kills a real browser, all its processes by their ids and without a word, until so many kills have come in the middle
 * of an act, and looks after each what its storage still holds of what had been told as saved.
 */
export async function killed(lab: Lab, moment: Moment, wanted: number, seed: string): Promise<Kills> {
  const random = randomOf(seed, moment);
  const tablet = new TestTabletBrowser();
  const told = new Set<string>();
  const lost = new Set<string>();
  const faults = new Set<string>();
  let inTheMiddle = 0;
  let thrownAway = 0;
  let toldBefore = 0;
  let kills = 0;
  let casting: string | null = null;
  for (;;) {
    const page = await tablet.open();
    const acts = new Acts(page, moment, told);
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
    if (inTheMiddle === wanted || kills === wanted * TRIES) break;
    void page
      .evaluate(
        ([id, act]) => (globalThis as unknown as { kill: Record<Moment, (id: string) => void> }).kill[act](id),
        [casting, moment] as const,
      )
      .catch(() => undefined);
    const length = await acts.once();
    await acts.begins();
    await tablet.kill(random.uniform() * length);
    kills += 1;
    if (acts.inside) inTheMiddle += 1;
  }
  await tablet.discard();
  return { moment, kills, inTheMiddle, told: toldBefore + told.size, lost: [...lost], thrownAway, faults: [...faults] };
}

/** What the page tells of its acts as it goes on with them, one after another. */
class Acts {
  readonly #page: Page;
  inside = false;
  #begun = 0;
  #began = 0;
  /** Milliseconds that the last whole act took; 0 before there is one. */
  #length = 0;

  constructor(page: Page, moment: Moment, told: Set<string>) {
    this.#page = page;
    page.on('console', (message) => {
      const text = message.text();
      if (text.startsWith('saved ')) for (const hash of text.slice(6).split(' ')) told.add(hash);
      if (text === `${moment} begins`) {
        this.inside = true;
        this.#begun += 1;
        this.#began = performance.now();
      }
      if (text === `${moment} ends`) {
        this.inside = false;
        this.#length = performance.now() - this.#began;
      }
    });
  }

  /** Waits for one whole act. @returns how long it took, in milliseconds */
  async once(): Promise<number> {
    while (this.#length === 0) await this.#heard();
    return this.#length;
  }

  /** Waits until another act has begun and not ended. */
  async begins(): Promise<void> {
    const before = this.#begun;
    while (this.#begun === before || !this.inside) await this.#heard();
  }

  #heard(): Promise<unknown> {
    return this.#page.waitForEvent('console', { timeout: 60_000 });
  }
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
