import type { Body } from '../../../shared/logbook/kinds.ts';
import { type PersonsKey, personsText, writeJoinRequest } from '../../../shared/sync/join-request.ts';
import { choosePerson } from '../app/session.ts';
import { castings, listCasting, logChanged, openStore, showCasting, tabletDb } from '../app/tablet.ts';
import { CastingStore } from '../storage/casting-store.ts';
import { makeTabletKey, tabletSigner } from '../storage/keys.ts';
import { handOut } from '../storage/packed-file.ts';
import { makePersonKey, openPersonKey } from '../storage/person-keys.ts';
import type { EntriesFile } from './open-file.ts';

/** The genesis that a file carries: its body gives the casting's fingerprint. Null where it has none. */
export function genesisIn(file: EntriesFile): Body<'genesis'> | null {
  const line = file.batches.flat().find((l) => l.entry.kind === 'genesis' && l.entry.seq === 1);
  return (line?.entry.body as Body<'genesis'> | undefined) ?? null;
}

/** Whether this tablet holds the casting of a file already. */
export const isHere = (file: EntriesFile): boolean => castings.value.some((c) => c.id === file.casting);

/**
 * Joins a casting: a new key for this tablet, a database of the casting's own, the file's entries in it. The tablet
 * counts only after a keeper has admitted it.
 */
export async function joinCasting(
  file: EntriesFile,
  tabletName: string,
  onProgress: (done: number, of: number) => void,
): Promise<void> {
  const genesis = genesisIn(file);
  if (!genesis) throw new Error('The file does not hold the first entry of a casting');
  // A joining that was broken off has left no entry that is not in a file.
  if (!isHere(file)) await CastingStore.forget(file.casting);
  const store = await CastingStore.create(file.casting, await makeTabletKey(), logChanged);
  const of = file.batches.reduce((sum, batch) => sum + batch.length, 0);
  let done = 0;
  for (const batch of file.batches) {
    onProgress(done, of);
    await store.receive(batch.map((l) => l.text));
    done += batch.length;
  }
  await tabletDb.settings.put({ key: nameKey(file.casting), value: tabletName });
  await listCasting({
    id: file.casting,
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

/** Saves the request that a keeper opens on another tablet. @returns the file's name. */
export async function saveRequest(name: string): Promise<string> {
  const { db, tabletKey, device } = openStore();
  await tabletDb.settings.put({ key: nameKey(db.casting), value: name });
  const text = await writeJoinRequest(db.casting, name, await keysToVouchFor(), tabletSigner(tabletKey));
  const file = `lehrbook-request-${device.slice(0, 8)}.json`;
  handOut(new Blob([text], { type: 'application/json' }), file);
  return file;
}
