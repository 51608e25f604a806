import { server } from '../app/server-link.ts';
import { openStore } from '../app/tablet.ts';
import type { ServerRow } from '../storage/database.ts';
import { joinServer } from '../sync/server-requests.ts';

/** Where the server answers: the app speaks with the one that it came from, and with no other. */
export const serverAddress = (): string => location.origin;

/** Lets this tablet carry the open casting. @returns null, or the code of the server's refusal. */
export async function joinWithCode(code: string): Promise<string | null> {
  const open = openStore();
  const address = serverAddress();
  const joined = await joinServer(address, { code, casting: open.db.casting, device: open.device });
  if ('refused' in joined) return joined.refused;
  const row: ServerRow = { id: 'server', address, token: joined.token, cursor: 0, carriedAt: null };
  await open.db.server.put(row);
  server.value = row;
  return null;
}

/** Forgets the server and the token. What it has stays there, what is here stays here. */
export async function leaveServer(): Promise<void> {
  await openStore().db.server.delete('server');
  server.value = null;
}
