import { computed, signal } from '@preact/signals';
import { PhotoStore } from '../storage/photo-store.ts';
import { openStore, store } from './tablet.ts';

const looked = signal<{ readonly casting: string; readonly names: ReadonlySet<string> } | null>(null);

/** The names of the photos of the open casting, whole and small, that lie on this tablet; null until it was looked at. */
export const blobsHere = computed<ReadonlySet<string> | null>(() => {
  const found = looked.value;
  return found !== null && found.casting === store.value?.db.casting ? found.names : null;
});

/** Looks anew: something was kept, or has arrived. */
export async function lookAtBlobs(): Promise<void> {
  const { db } = openStore();
  looked.value = { casting: db.casting, names: await new PhotoStore(db).here() };
}

/** Whole photos that somebody wants to see and that are not here: they come before all others. */
export const photosAsked = signal<ReadonlySet<string>>(new Set());

export function askForPhoto(hash: string): void {
  if (!photosAsked.peek().has(hash)) photosAsked.value = new Set([...photosAsked.peek(), hash]);
}
