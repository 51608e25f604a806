import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
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

  /**
   * Ends all its processes by their ids, without a word, as a flat battery does.
   * @param after_ms so much later; they are looked up before, so that the blow falls when it should
   */
  async kill(after_ms = 0): Promise<void> {
    const context = this.context;
    this.context = null;
    const gone = new Promise((resolve) => context?.once('close', resolve));
    const known = processesOf(this.profile);
    if (after_ms > 0) await new Promise((resolve) => setTimeout(resolve, after_ms));
    for (const pid of known) end(pid);
    const all = new Set([...known, ...processesOf(this.profile)]);
    for (const pid of all) end(pid);
    await gone;
    // One that is still dying holds the storage's lock: a battery that is flat leaves nobody behind.
    while ([...all].some((pid) => existsSync(`/proc/${pid}/stat`) && stateOf(pid)?.state !== 'Z'))
      await new Promise((resolve) => setTimeout(resolve, 5));
  }

  /** The folder in which the browser keeps its databases. */
  get databases(): string {
    return join(this.profile, 'Default/IndexedDB');
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

/** A process's state letter and parent, as Linux tells them; null once it has ended. */
function stateOf(pid: number): { state: string; parent: number } | null {
  try {
    // The name stands in brackets and may hold anything.
    const [state, parent] = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1)!.split(' ');
    return { state: state!, parent: Number(parent) };
  } catch {
    return null;
  }
}

/** The processes of a browser by its profile, with all that they started: some bear no profile on their command line. */
function processesOf(profile: string): number[] {
  const pids = readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .filter((pid) => pid !== process.pid);
  const found = new Set(pids.filter((pid) => commandOf(pid).includes(profile)));
  for (let before = -1; before !== found.size; ) {
    before = found.size;
    for (const pid of pids) if (found.has(stateOf(pid)?.parent ?? -1)) found.add(pid);
  }
  return [...found];
}

function commandOf(pid: number): string {
  try {
    return readFileSync(`/proc/${pid}/cmdline`, 'utf8');
  } catch {
    return '';
  }
}

function end(pid: number): void {
  try {
    process.kill(pid, 'SIGKILL');
  } catch {
    // It ended by itself, with the process that had started it.
  }
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
