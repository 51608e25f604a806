import { computed, signal } from '@preact/signals';
import { syncStatus } from './server-link.ts';
import { store, view } from './tablet.ts';

/** Entries of this tablet that are known to lie nowhere else, and the time of the oldest. */
export const outbox = computed<{ count: number; since: string | null }>(() => {
  void view.value;
  void syncStatus.value;
  return store.value?.waiting ?? { count: 0, since: null };
});

/** `asked` until the browser has answered. */
export const persistence = signal<'asked' | 'granted' | 'refused' | 'not offered'>('asked');

/** Used and allowed bytes as the browser tells them; null while it has not. */
export const quota = signal<{ used: number; allowed: number } | null>(null);

export const storageIsNearlyFull = computed(() => quota.value !== null && quota.value.used > 0.8 * quota.value.allowed);

const HOUR_MS = 3_600_000;

/** Looks at the room each hour and whenever somebody comes back to the screen: the app stays open for weeks. */
export function watchRoom(): void {
  setInterval(() => void lookAtRoom(), HOUR_MS);
  document.addEventListener('visibilitychange', () => {
    if (!document.hidden) void lookAtRoom();
  });
}

/** Asks how much room there is; where the browser does not say, nothing is warned of. */
export async function lookAtRoom(): Promise<void> {
  const { usage, quota: allowed } = (await navigator.storage?.estimate?.()) ?? {};
  if (usage !== undefined && allowed !== undefined) quota.value = { used: usage, allowed };
}

/** Asks the browser not to clear this tablet's log by itself. Some refuse: then Setup says so. */
export async function askForPersistence(): Promise<void> {
  if (!navigator.storage?.persist) {
    persistence.value = 'not offered';
    return;
  }
  persistence.value = (await navigator.storage.persist()) ? 'granted' : 'refused';
  await lookAtRoom();
}
