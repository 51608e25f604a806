import { canonicalJson } from '../../../shared/logbook/canonical.ts';
import type { Body } from '../../../shared/logbook/kinds.ts';
import type { BatchFault, ProvenLine } from '../../../shared/sync/file-batch.ts';
import {
  type JoinRequest,
  type PersonsKey,
  personsText,
  readJoinRequest,
  writeJoinRequest,
} from '../../../shared/sync/join-request.ts';
import { bodyOfRequest } from '../../../shared/sync/requests-here.ts';
import { choosePerson } from '../app/session.ts';
import { castings, listCasting, logChanged, openStore, showCasting, tabletDb } from '../app/tablet.ts';
import { CastingStore } from '../storage/casting-store.ts';
import type { TabletKeyRow } from '../storage/database.ts';
import { makeTabletKey, tabletSigner, webVerifier } from '../storage/keys.ts';
import { handOut } from '../storage/packed-file.ts';
import { makePersonKey, openPersonKey } from '../storage/person-keys.ts';
import type { EntriesFile } from './open-file.ts';
import { act, save } from './save.ts';

/** A casting that this tablet is about to join: compared by its fingerprint first, then written. */
export interface FoundCasting {
  readonly casting: string;
  readonly genesis: Body<'genesis'>;
  /** What is wrong with parts of a file, in words. */
  readonly faults: readonly BatchFault[];
  /** @param name of this tablet */
  readonly join: (name: string, onProgress: (done: number, of: number) => void) => Promise<void>;
}

/** The first entry of a casting: its body gives the fingerprint. Null where it is not among these. */
export const genesisAmong = (lines: readonly ProvenLine[]): Body<'genesis'> | null =>
  (lines.find((l) => l.entry.kind === 'genesis' && l.entry.seq === 1)?.entry.body as Body<'genesis'> | undefined) ??
  null;

/** Whether this tablet holds a casting already. */
export const isHere = (casting: string): boolean => castings.value.some((c) => c.id === casting);

/** The casting of a file. @throws {Error} where the file opens none. */
export function castingIn(file: EntriesFile): FoundCasting {
  const { casting, faults } = file;
  if (isHere(casting)) throw new Error('This casting is on this tablet already. Setup, Castings opens it.');
  const genesis = genesisAmong(file.batches.flat());
  if (!genesis)
    throw new Error('The file does not begin at the first entry: ask for a file with all entries of the casting.');
  return { casting, genesis, faults, join: (name, onProgress) => joinByFile(file, genesis, name, onProgress) };
}

async function joinByFile(
  file: EntriesFile,
  genesis: Body<'genesis'>,
  name: string,
  onProgress: (done: number, of: number) => void,
): Promise<void> {
  const store = await emptyStore(file.casting, await makeTabletKey());
  const of = file.batches.reduce((sum, batch) => sum + batch.length, 0);
  let done = 0;
  for (const batch of file.batches) {
    onProgress(done, of);
    await store.takeIn(batch);
    done += batch.length;
  }
  await openJoined(store, genesis, name);
}

/** The database of a casting that was never opened here. A joining that was broken off has left nothing that is only there. */
export async function emptyStore(casting: string, tabletKey: TabletKeyRow): Promise<CastingStore> {
  if (!isHere(casting)) await CastingStore.forget(casting);
  return CastingStore.create(casting, tabletKey, logChanged);
}

/** Opens a casting that was joined; the tablet counts only after a keeper has admitted it. */
export async function openJoined(store: CastingStore, genesis: Body<'genesis'>, tabletName: string): Promise<void> {
  const { casting } = store.db;
  await tabletDb.settings.put({ key: nameKey(casting), value: tabletName });
  await listCasting({
    id: casting,
    name: genesis.name,
    practice: genesis.practice,
    openedAt: new Date().toISOString(),
  });
  showCasting(store);
  await choosePerson(null);
}

const nameKey = (casting: string): string => `tablet name/${casting}`;

/** The name under which this tablet asks to be admitted. */
export async function nameOfThisTablet(): Promise<string> {
  const row = await tabletDb.settings.get(nameKey(openStore().db.casting));
  return (row?.value as string | undefined) ?? 'Tablet';
}

/** Makes a key for a person of the roster on a tablet that no keeper has admitted yet, under a PIN that they choose. */
export async function makeKeyHere(person: string, pin: string): Promise<void> {
  const { db, tabletKey } = openStore();
  const row = await makePersonKey(person, pin, tabletKey);
  const signer = await openPersonKey(row, pin, tabletKey);
  if (!signer) throw new Error('The key does not open with the PIN that it was made with');
  const proof = await signer.sign(personsText(db.casting, tabletKey.publicKey, person));
  await db.transaction('rw', db.personKeys, async () => {
    // One key a person: one that nobody has vouched for is no loss.
    await db.personKeys.where('person').equals(person).delete();
    await db.personKeys.add({ ...row, proof });
  });
}

/** The keys that people made here and that a keeper is asked to vouch for. */
export const keysToVouchFor = async (): Promise<PersonsKey[]> =>
  (await openStore().db.personKeys.toArray()).flatMap(({ person, publicKey, proof }) =>
    proof === undefined ? [] : [{ person, key: publicKey, signature: proof }],
  );

async function requestText(name: string): Promise<string> {
  const { db, tabletKey } = openStore();
  await tabletDb.settings.put({ key: nameKey(db.casting), value: name });
  return writeJoinRequest(db.casting, name, await keysToVouchFor(), tabletSigner(tabletKey));
}

/** Saves the request that a keeper opens on another tablet. @returns the file's name. */
export async function saveRequest(name: string): Promise<string> {
  const file = `lehrbook-request-${openStore().device.slice(0, 8)}.json`;
  handOut(new Blob([await requestText(name)], { type: 'application/json' }), file);
  return file;
}

/** Writes the request down as an entry: the server brings it to the keepers' tablets. */
export async function sendRequest(name: string): Promise<void> {
  const request = JSON.parse(await requestText(name)) as JoinRequest;
  await save(act('request', bodyOfRequest(request)));
}

/** Opens a request that came as an entry. @throws {Error} where it is not signed by the keys that it names. */
export async function openRequest(request: JoinRequest): Promise<JoinRequest> {
  const read = await readJoinRequest(canonicalJson(request), openStore().db.casting, webVerifier);
  if (read === null || 'fault' in read) throw new Error('It is not signed by the keys that it names: do not admit it.');
  return read;
}
