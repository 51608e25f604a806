import { server } from '../app/server-link.ts';
import { openStore } from '../app/tablet.ts';
import type { ServerRow } from '../storage/database.ts';
import { deviceOf, makeTabletKey } from '../storage/keys.ts';
import { firstPages } from '../sync/first-pages.ts';
import { joinServer } from '../sync/server-requests.ts';
import { troubleWords } from '../sync/trouble-words.ts';
import { emptyStore, type FoundCasting, genesisAmong, isHere, openJoined } from './join-casting.ts';

/** Where the server answers: the app speaks with the one that it came from, and with no other. */
export const serverAddress = (): string => location.origin;

/** Lets this tablet carry the open casting. @throws {Error} in words, where the server does not take the code. */
export async function joinWithCode(code: string): Promise<void> {
  const open = openStore();
  const address = serverAddress();
  const joined = await joinServer(address, { code, casting: open.db.casting, device: open.device });
  if ('refused' in joined) throw new Error(inWords(joined.refused));
  const row: ServerRow = { id: 'server', address, token: joined.token, cursor: 0, carriedAt: null };
  await open.db.server.put(row);
  server.value = row;
}

/** Forgets the server and the token. What it has stays there, what is here stays here. */
export async function leaveServer(): Promise<void> {
  await openStore().db.server.delete('server');
  server.value = null;
}

/** The casting that a code of the server opens. @throws {Error} in words, where the code opens no casting. */
export async function castingByCode(code: string): Promise<FoundCasting> {
  const tabletKey = await makeTabletKey();
  const address = serverAddress();
  const joined = await joinServer(address, { code, device: deviceOf(tabletKey.publicKey) });
  if ('refused' in joined) throw new Error(inWords(joined.refused));
  const { casting, token } = joined;
  if (isHere(casting))
    throw new Error(
      'This casting is on this tablet already. Setup, Castings opens it; there, Setup, Tablets joins the server, with another code.',
    );
  const first = await firstPages({ address, token }, casting);
  if ('refused' in first) throw new Error(`${inWords(first.refused)} The code is used up: ask for another.`);
  const genesis = genesisAmong(first.lines);
  if (!genesis)
    throw new Error(
      'The server has nothing of the casting yet. Let the tablet that began it sync first, then ask for another code.',
    );
  const join = async (name: string, onProgress: (done: number, of: number) => void) => {
    onProgress(0, first.count);
    const store = await emptyStore(casting, tabletKey);
    await store.db.server.put({ id: 'server', address, token, cursor: 0, carriedAt: null });
    await store.takeIn(first.lines, first.cursor);
    // The rest comes while the tablet is in use.
    await openJoined(store, genesis, name);
  };
  return { casting, genesis, faults: [], join };
}

function inWords(refused: string): string {
  const { what, help } = troubleWords(refused);
  return `${what} ${help}`;
}
