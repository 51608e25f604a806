import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { addPage } from '../bench/lab.ts';
import type { Stored } from '../bench/sync-page.ts';

interface Loaded {
  readonly beside: {
    write(casting: string, count: number): Promise<void>;
    stored(casting: string, at_ms: number): Promise<Stored>;
  };
  importLong(entries: number, tablets: number): Promise<unknown>;
}

/** One moment for all, so that states can be compared. */
const AT_ms = Date.UTC(2026, 5, 1);

/** Code that works beside the app in its pages, on the same storage, as a second window would. */
export class BesideTheApp {
  private readonly folder = mkdtempSync(join(tmpdir(), 'lehrbook-beside-'));

  async build(): Promise<void> {
    for (const name of ['sync-page', 'import-page']) await addPage(this.folder, name);
  }

  discard(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }

  /** Writes so many entries of this tablet. */
  async write(page: Page, count: number): Promise<void> {
    await this.load(page, 'sync-page');
    const of = { casting: await castingOf(page), count };
    await page.evaluate(({ casting, count: n }) => (globalThis as unknown as Loaded).beside.write(casting, n), of);
  }

  async stored(page: Page): Promise<Stored> {
    await this.load(page, 'sync-page');
    const of = { casting: await castingOf(page), at_ms: AT_ms };
    return page.evaluate(({ casting, at_ms }) => (globalThis as unknown as Loaded).beside.stored(casting, at_ms), of);
  }

  /** Makes a long log of several tablets in the storage of this one; the app opens it at its next start. */
  async importLong(page: Page, entries: number, tablets: number): Promise<void> {
    await this.load(page, 'import-page');
    await page.evaluate(({ n, t }) => (globalThis as unknown as Loaded).importLong(n, t), { n: entries, t: tablets });
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

const castingOf = (page: Page): Promise<string> => page.evaluate(() => localStorage.getItem('last open casting')!);
