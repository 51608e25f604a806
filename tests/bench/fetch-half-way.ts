import type { Page } from 'playwright-core';
import { BesideTheApp } from '../browser/beside.ts';
import { TestTabletBrowser } from '../browser/harness.ts';
import { joinFromStart, joinServer, KilledServer, line, SERVER, SYNCED } from '../browser/server-steps.ts';
import { become, go } from '../browser/steps.ts';
import type { Stored } from './beside-page.ts';

export interface Fetched {
  /** After which arrival the tablet asked when it was opened again. */
  readonly from: number;
  /** From the second opening until all was there, ms, and the longest time that the page heard nothing meanwhile. */
  readonly rest_ms: number;
  readonly deaf_ms: number;
  /** The longest tasks of the page meanwhile, and how many took more than 50 ms. */
  readonly longTasks: { readonly count: number; readonly longest_ms: readonly number[] };
  /** From the key that kept a note, while entries came in, to the word that it was saved, ms. */
  readonly note_ms: number;
  readonly note: string;
  readonly onFirst: Stored;
  readonly onSecond: Stored;
}

/** A server with a long log, and a tablet that joins, is killed half way through, and is opened again. */
export class FetchHalfWay {
  private readonly first = new TestTabletBrowser();
  private readonly second = new TestTabletBrowser();
  private readonly beside = new BesideTheApp();
  private readonly server: KilledServer;
  private a!: Page;
  private casting = '';
  /** How long the first tablet took to bring all, ms. */
  sent_ms = 0;

  private constructor(
    private readonly entries: number,
    settings: Readonly<Record<string, string>>,
  ) {
    this.server = new KilledServer(settings);
  }

  static async begin(entries: number, settings: Readonly<Record<string, string>> = {}): Promise<FetchHalfWay> {
    const world = new FetchHalfWay(entries, settings);
    const { server, beside } = world;
    await Promise.all([server.start(), beside.build()]);
    const a = await world.first.open();
    a.setDefaultTimeout(20 * entries + 60_000);
    await a.goto(server.address);
    await a.getByRole('heading', { level: 1 }).waitFor();
    world.casting = await beside.importLong(a, entries, 4);
    await go(a, '/');
    await go(a, SERVER);
    await a.getByLabel('One-time code').waitFor();
    const begun = Date.now();
    await joinServer(a, await server.firstCode());
    await line(a).getByText(SYNCED).waitFor();
    world.sent_ms = Date.now() - begun;
    world.a = a;
    return world;
  }

  get problems(): readonly string[] {
    return [...this.first.problems, ...this.second.problems];
  }

  async run(): Promise<Fetched> {
    const { second, server, beside, casting } = this;
    const joining = await second.open();
    await joining.goto(server.address);
    await joinFromStart(joining, await server.code(casting), 'Lift tablet');
    await line(joining)
      .getByText(/Carrying · \d+ to go/)
      .waitFor();
    await second.kill();

    const b = await second.open();
    b.setDefaultTimeout(20 * this.entries + 60_000);
    const from: number[] = [];
    b.on('request', (request) => {
      const after = /after=(\d+)/.exec(request.url())?.[1];
      if (after !== undefined) from.push(Number(after));
    });
    await b.addInitScript(watchForDeafness);
    await b.goto(server.address);
    const begun = Date.now();
    await line(b)
      .getByText(/Carrying · \d+ to go/)
      .waitFor();
    const noted = await this.note(b);
    await line(b).getByText(SYNCED).waitFor();
    const rest_ms = Date.now() - begun;
    const tasks = await b.evaluate(() => (globalThis as unknown as { longTasks: number[] }).longTasks);
    const longest_ms = tasks.sort((x, y) => y - x).slice(0, 10);
    await go(this.a, '/record');
    await this.a.getByText(noted.note).first().waitFor();
    return {
      from: from[0] ?? 0,
      rest_ms,
      deaf_ms: longest_ms[0] ?? 0,
      longTasks: { count: tasks.length, longest_ms },
      ...noted,
      onFirst: await beside.stored(this.a, casting),
      onSecond: await beside.stored(b, casting),
    };
  }

  private async note(page: Page): Promise<{ note: string; note_ms: number }> {
    await become(page, 'Practice writer');
    const note = 'kept while entries came in';
    await page.getByLabel('Note', { exact: true }).fill(note);
    const begun = Date.now();
    await page.keyboard.press('Enter');
    await page.getByRole('status').getByText(note).waitFor();
    return { note, note_ms: Date.now() - begun };
  }

  async discard(): Promise<void> {
    await this.first.discard();
    await this.second.discard();
    await this.server.discard();
    this.beside.discard();
  }
}

/** In the page: how long each task took in which it heard nothing for more than 50 ms. */
function watchForDeafness(): void {
  const longTasks: number[] = [];
  Object.assign(globalThis, { longTasks });
  new PerformanceObserver((list) => {
    longTasks.push(...list.getEntries().map((entry) => entry.duration));
  }).observe({ type: 'longtask' });
}
