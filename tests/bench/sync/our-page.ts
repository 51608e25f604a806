import { Standing } from '../../../shared/logbook/standing.ts';
import { stationState } from '../../../shared/logbook/state/readings.ts';
import { viewOf } from '../../../shared/logbook/state/view.ts';
import { CastingStore } from '../../../src/tablet/storage/casting-store.ts';
import { CastingDatabase } from '../../../src/tablet/storage/database.ts';
import { makeTabletKey } from '../../../src/tablet/storage/keys.ts';
import { PageChecker } from '../../../src/tablet/sync/page-checker.ts';
import { joinServer, type ServerLink } from '../../../src/tablet/sync/server-requests.ts';
import { SyncDriver } from '../../../src/tablet/sync/sync-driver.ts';
import type { First, Opened, PagePart } from './page-part.ts';

/** The app's scripts are on a tablet before it syncs: those that this page has not yet loaded are fetched now. */
async function loadWorkers(): Promise<void> {
  const checker = new PageChecker('');
  const isNoGzip = checker.check(new ArrayBuffer(100_000)).catch(() => undefined);
  await isNoGzip;
  checker.rest();
}

let open: { store: CastingStore; link: ServerLink } | null = null;

/** One pass of the product's driver, until it rests with nothing left to carry. */
async function pass(): Promise<number> {
  const { store, link } = open!;
  const from = performance.now();
  await new Promise<void>((resolve) => {
    const driver: SyncDriver = new SyncDriver({
      store,
      link,
      told: () => undefined,
      shown: () => Promise.resolve(),
      passEnded: () => {
        driver.end();
        resolve();
      },
    });
    driver.start();
  });
  return performance.now() - from;
}

/** Asks the log a question of a screen: what was measured at a station, and what of it stands. */
function ask({ log }: CastingStore): number {
  const view = viewOf(log, null, new Standing(log));
  if (!view) throw new Error('The log cannot be asked');
  const [scope] = log.scopeNames('station/6.4/core-gap/');
  return scope === undefined ? 0 : stationState(view, scope).history.length;
}

const part: PagePart = {
  async prepare(casting, code) {
    const store = await CastingStore.create(casting, await makeTabletKey(), () => undefined);
    const joined = await joinServer(location.origin, { code, casting, device: store.device });
    if ('refused' in joined) throw new Error(joined.refused);
    const link = { address: location.origin, token: joined.token };
    await store.db.server.put({ id: 'server', ...link, cursor: 0, carriedAt: null });
    open = { store, link };
    await loadWorkers();
  },

  async first(): Promise<First> {
    const { store } = open!;
    const from = performance.now();
    await pass();
    const answers = ask(store);
    return { ms: performance.now() - from, entries: store.log.size, answers };
  },

  async again(casting): Promise<Opened> {
    const from = performance.now();
    const store = await CastingStore.openUnread(new CastingDatabase(casting), () => undefined);
    const ready_ms = performance.now() - from;
    await store.read();
    const answers = ask(store);
    const ms = performance.now() - from;
    const { address, token } = (await store.db.server.get('server'))!;
    open = { store, link: { address, token } };
    return { ms, ready_ms, entries: store.log.size, answers };
  },

  async write(entries) {
    const at = new Date().toISOString();
    await open!.store.save(
      Array.from({ length: entries }, (_, i) => ({
        kind: 'note' as const,
        body: { text: `seen ${i}` },
        by: 'a'.repeat(32),
        observedAt: at,
        recordedAt: at,
      })),
    );
  },

  pass,
  size: async () => open!.store.log.size,
};

Object.assign(globalThis, { bench: part });
