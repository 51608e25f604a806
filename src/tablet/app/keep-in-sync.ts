import { computed, effect } from '@preact/signals';
import type { CastingStore } from '../storage/casting-store.ts';
import type { ServerRow } from '../storage/database.ts';
import { SyncDriver } from '../sync/sync-driver.ts';
import { firstStatus, statusAfter } from '../sync/sync-status.ts';
import { passEnded, server, syncStatus } from './server-link.ts';
import { logShown, openStore, phase, store, view } from './tablet.ts';
import { isoWithOffset } from './time.ts';

/** While nothing had to be carried, the time of the last pass is put down only so often. */
const NOTE_EVERY_ms = 600_000;

let driver: SyncDriver | null = null;

/** Asks the server now, whatever it waits for. */
export const syncNow = (): void => driver?.start();

/** Keeps the open casting in sync with the server that it has joined, while the app is open. */
export function keepInSync(): void {
  effect(() => {
    const open = store.value;
    server.value = null;
    open?.db.server.get('server').then((row) => {
      if (store.peek() === open) server.value = row ?? null;
    }, console.error);
  });
  const ready = computed(() => (phase.value === 'open' ? store.value : null));
  const token = computed(() => server.value?.token ?? null);
  effect(() => {
    driver?.end();
    driver = null;
    syncStatus.value = null;
    if (ready.value && token.value !== null) driver = driverFor(ready.value, server.peek()!);
    driver?.start();
  });
  let head: string | null = null;
  effect(() => {
    const own = view.value && store.peek() ? openStore().stamp.head : null;
    if (own !== null && own !== head) driver?.start();
    head = own;
  });
  addEventListener('online', syncNow);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') syncNow();
  });
}

function driverFor(open: CastingStore, { address, token }: ServerRow): SyncDriver {
  let { carried } = open;
  syncStatus.value = firstStatus;
  return new SyncDriver({
    store: open,
    link: { address, token },
    told: (state, lacking) => {
      if (server.peek()?.token === token)
        syncStatus.value = statusAfter(syncStatus.peek() ?? firstStatus, state, lacking, isoWithOffset());
    },
    shown: logShown,
    passEnded: () => {
      if (open.waiting.count === 0) noteCarriedAt(open, open.carried !== carried);
      carried = open.carried;
      passEnded();
    },
  });
}

/** The server has all that was written here. */
function noteCarriedAt(open: CastingStore, moved: boolean): void {
  const row = server.peek();
  if (!row) return;
  const at = isoWithOffset();
  const isDue = row.carriedAt === null || Date.parse(at) - Date.parse(row.carriedAt) > NOTE_EVERY_ms;
  if (!moved && !isDue) return;
  server.value = { ...row, carriedAt: at };
  open.db.server.update('server', { carriedAt: at }).catch(console.error);
}
