import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import type { Stored } from '../bench/beside-page.ts';
import { addPage } from '../bench/lab.ts';

interface Loaded {
  readonly beside: {
    write(casting: string, count: number): Promise<void>;
    stored(casting: string, at_ms: number): Promise<Stored>;
  };
  importLong(entries: number, tablets: number): Promise<{ casting: string }>;
}

/** One moment for all, so that states can be compared. */
const AT_ms = Date.UTC(2026, 5, 1);

/** Code that works beside the app in its pages, on the same storage, as a second window would. */
export class BesideTheApp {
  private readonly folder = mkdtempSync(join(tmpdir(), 'lehrbook-beside-'));

  async build(): Promise<void> {
    for (const name of ['beside-page', 'import-page']) await addPage(this.folder, name);
  }

  discard(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }

  /** Writes so many entries of this tablet. */
  async write(page: Page, casting: string, count: number): Promise<void> {
    await this.load(page, 'beside-page');
    await page.evaluate(([id, n]) => (globalThis as unknown as Loaded).beside.write(id, n), [casting, count] as const);
  }

  async stored(page: Page, casting: string): Promise<Stored> {
    await this.load(page, 'beside-page');
    return page.evaluate(([id, at_ms]) => (globalThis as unknown as Loaded).beside.stored(id, at_ms), [
      casting,
      AT_ms,
    ] as const);
  }

  /** Makes a long log of several tablets in the storage of this one; the app opens it at its next start. @returns the casting */
  async importLong(page: Page, entries: number, tablets: number): Promise<string> {
    await this.load(page, 'import-page');
    const wanted = [entries, tablets] as const;
    return (await page.evaluate(([n, t]) => (globalThis as unknown as Loaded).importLong(n, t), wanted)).casting;
  }

  /** The page loads it from its own address, as its content policy wants. */
  private async load(page: Page, name: string): Promise<void> {
    const path = `/bench/${name}.js`;
    await page.route(`**${path}`, (route) =>
      route.fulfill({ contentType: 'text/javascript', body: readFileSync(join(this.folder, path)) }),
    );
    await page.evaluate(`import('${path}')`);
  }
}

/** The casting that was opened last in a page. */
export const castingOf = (page: Page): Promise<string> =>
  page.evaluate(() => localStorage.getItem('last open casting')!);
