import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page } from 'playwright-core';

/** What headless Chromium needs on a machine without a display, a sandbox or an outside network. */
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export const sizes = {
  landscape: { width: 1280, height: 800 },
  portrait: { width: 800, height: 1280 },
  phone: { width: 390, height: 844 },
} as const;

export { TestServer } from '../server/test-server.ts';

/** A tablet: a Chromium with a profile of its own that survives closing. */
export class TestTabletBrowser {
  private readonly profile = mkdtempSync(join(tmpdir(), 'lehrbook-tablet-'));
  private context: BrowserContext | null = null;
  readonly problems: string[] = [];

  async open(size: { width: number; height: number } = sizes.landscape): Promise<Page> {
    this.context = await chromium.launchPersistentContext(this.profile, {
      executablePath: await chromiumPath(),
      args: FLAGS,
      viewport: size,
      hasTouch: true,
      acceptDownloads: true,
    });
    // Scripts run by tsx carry marks of function names that a page does not know.
    await this.context.addInitScript('globalThis.__name ??= (f) => f');
    const page = this.context.pages()[0] ?? (await this.context.newPage());
    page.setDefaultTimeout(15_000);
    page.on('pageerror', (error) => this.problems.push(error.stack ?? String(error)));
    page.on('console', (message) => {
      // A request that fails because the server is gone is what these tests are about.
      if (message.type() === 'error' && !/ERR_CONNECTION|Failed to load resource/.test(message.text()))
        this.problems.push(message.text());
    });
    return page;
  }

  /** Ends all its processes by their ids, without a word, as a flat battery does. */
  async kill(): Promise<void> {
    const context = this.context;
    this.context = null;
    const gone = new Promise((resolve) => context?.once('close', resolve));
    for (const pid of processesNaming(this.profile)) process.kill(pid, 'SIGKILL');
    await gone;
    // A process that is still dying holds the storage's lock: a battery that is flat leaves nobody behind.
    while (processesNaming(this.profile).length > 0) await new Promise((resolve) => setTimeout(resolve, 10));
  }

  async close(): Promise<void> {
    await this.context?.close();
    this.context = null;
  }

  async discard(): Promise<void> {
    await this.close();
    rmSync(this.profile, { recursive: true, force: true });
  }
}

/** The processes that have a path on their command line, children too. */
function processesNaming(path: string): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .filter((pid) => {
      try {
        return pid !== process.pid && readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes(path);
      } catch {
        // It ended in between.
        return false;
      }
    });
}

/** Chromium's program: named in the environment, or found on the PATH. */
async function chromiumPath(): Promise<string> {
  const named = process.env.CHROMIUM ?? 'chromium';
  if (named.includes('/')) return named;
  const { execFileSync } = await import('node:child_process');
  return execFileSync('sh', ['-c', `command -v ${named}`])
    .toString()
    .trim();
}

/** Waits until the worker holds every file of the app, so that the server may go. */
export async function waitUntilOffline(page: Page): Promise<void> {
  await page.waitForFunction(
    async () =>
      (await navigator.serviceWorker?.ready)?.active?.state === 'activated' &&
      navigator.serviceWorker.controller !== null,
  );
}
