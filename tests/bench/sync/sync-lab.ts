import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Page } from 'playwright-core';
import { TestTabletBrowser } from '../../browser/harness.ts';
import { addPage } from '../lab.ts';
import { BenchServer, type Side } from './bench-server.ts';
import { type BenchEntries, makeEntries } from './entries.ts';
import type { PagePart } from './page-part.ts';

export const sides: readonly Side[] = ['our', 'pouch', 'yjs'];

/** PouchDB's own scripts for the browser, as its vendor ships them. */
const POUCH = dirname(createRequire(import.meta.url).resolve('pouchdb/package.json'));
const POUCH_SCRIPTS = ['pouchdb.min.js', 'pouchdb.indexeddb.min.js'];

/** How long a page may work on one measure, in ms. */
const PATIENCE_ms = 1_800_000;

/** The pages of all sides, built once. */
export async function buildPages(): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), 'lehrbook-sync-pages-'));
  await addPage(folder, 'our-page', 'sync/our-page');
  await addPage(folder, 'pouch-page', 'sync/pouch-page', POUCH_SCRIPTS);
  await addPage(folder, 'yjs-page', 'sync/yjs-page');
  for (const name of POUCH_SCRIPTS) copyFileSync(join(POUCH, 'dist', name), join(folder, 'bench', name));
  return folder;
}

/** One set of entries behind the servers of the sides that are asked for, each in a process of its own. */
export class SyncLab {
  private constructor(
    private readonly folder: string,
    readonly entries: BenchEntries,
    private readonly servers: ReadonlyMap<Side, BenchServer>,
  ) {}

  static async open(pages: string, count: number, wanted: readonly Side[] = sides): Promise<SyncLab> {
    const folder = mkdtempSync(join(tmpdir(), 'lehrbook-sync-'));
    const entries = await makeEntries(count);
    const file = join(folder, 'entries.ndjson');
    writeFileSync(file, entries.lines.join('\n'));
    const servers = new Map<Side, BenchServer>();
    for (const side of wanted) servers.set(side, await BenchServer.start(side, pages, file, entries.casting));
    return new SyncLab(folder, entries, servers);
  }

  server(side: Side): BenchServer {
    return this.servers.get(side)!;
  }

  /** A one-time code, where a side joins with one. */
  code(side: Side): string {
    return this.server(side).codes.pop() ?? '';
  }

  /** Opens a side's page in a browser of its own. */
  async visit(side: Side, tablet = new TestTabletBrowser()): Promise<Visit> {
    const page = await tablet.open();
    page.setDefaultTimeout(PATIENCE_ms);
    await page.goto(`${this.server(side).address}/bench/${side}-page.html`);
    await page.waitForFunction(() => 'bench' in globalThis);
    return { tablet, page };
  }

  async close(): Promise<void> {
    for (const server of this.servers.values()) await server.stop();
    rmSync(this.folder, { recursive: true, force: true });
  }
}

export interface Visit {
  readonly tablet: TestTabletBrowser;
  readonly page: Page;
}

/** Calls a function of the page's part. */
export function call<K extends keyof PagePart>(
  page: Page,
  name: K,
  ...args: Parameters<NonNullable<PagePart[K]>>
): Promise<Awaited<ReturnType<NonNullable<PagePart[K]>>>> {
  return page.evaluate(
    ([what, given]) =>
      (globalThis as unknown as { bench: Record<string, (...a: unknown[]) => Promise<never>> }).bench[what]!(...given),
    [name, args] as const,
  );
}
