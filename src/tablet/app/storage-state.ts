import { computed, effect, signal } from '@preact/signals';
import { openStore, store, view } from './tablet.ts';

/** Entries of this tablet that are known to lie nowhere else, and the time of the oldest. */
export const outbox = signal<{ waiting: number; since: string | null }>({ waiting: 0, since: null });

/** `asked` until the browser has answered. */
export const persistence = signal<'asked' | 'granted' | 'refused' | 'not offered'>('asked');

/** Used and allowed bytes as the browser tells them; null while it has not. */
export const quota = signal<{ used: number; allowed: number } | null>(null);

export const storageIsNearlyFull = computed(() => quota.value !== null && quota.value.used > 0.8 * quota.value.allowed);

export function watchOutbox(): void {
  effect(() => {
    void view.value;
    if (store.value) void countOutbox();
  });
}

async function countOutbox(): Promise<void> {
  const { db } = openStore();
  const [waiting, rows] = await Promise.all([db.outbox.count(), db.outbox.limit(1).toArray()]);
  outbox.value = { waiting, since: rows[0]?.savedAt ?? null };
}

/** Asks the browser not to clear this tablet's log by itself. Some refuse: then Setup says so. */
export async function askForPersistence(): Promise<void> {
  if (!navigator.storage?.persist) {
    persistence.value = 'not offered';
    return;
  }
  persistence.value = (await navigator.storage.persist()) ? 'granted' : 'refused';
  const { usage, quota: allowed } = await navigator.storage.estimate();
  if (usage !== undefined && allowed !== undefined) quota.value = { used: usage, allowed };
}
