import { computed, signal } from '@preact/signals';
import type { ServerRow } from '../storage/database.ts';
import type { ServerLink } from '../sync/server-requests.ts';
import type { SyncStatus } from '../sync/sync-status.ts';

/** The server that the open casting has joined; null where it has joined none. */
export const server = signal<ServerRow | null>(null);

/** Its address and the token that lets this tablet in. */
export const serverLink = computed<ServerLink | null>(() =>
  server.value ? { address: server.value.address, token: server.value.token } : null,
);

/** How sync stands; null while nothing is joined or the log is still being read. */
export const syncStatus = signal<SyncStatus | null>(null);

const listeners = new Set<() => void>();

/**
 * Calls when a pass of sync has ended with nothing left to carry: the server answers and has what entries name.
 * @returns what stops the calls
 */
export function onPassEnded(work: () => void): () => void {
  listeners.add(work);
  return () => listeners.delete(work);
}

export const passEnded = (): void => {
  for (const work of listeners) work();
};
