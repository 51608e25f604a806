import type { Role } from '../../../shared/logbook/kinds.ts';
import { signerOf } from '../app/ask-pin.tsx';
import { recorder } from '../app/session.ts';
import { openStore } from '../app/tablet.ts';
import { makePersonKey, randomId } from '../storage/keys.ts';
import { act, save } from './save.ts';

/**
 * Admits a person with roles and makes their key on this tablet, wrapped by the PIN that they choose. The keeper at
 * the tablet signs.
 * @returns the new person's id, or null when the keeper turned away from the PIN.
 */
export async function admitPerson(name: string, roles: readonly Role[], pin: string): Promise<string | null> {
  const signer = await signerOf(recorder().id, `Admit ${name}`);
  if (!signer) return null;
  const { db, tabletKey, device } = openStore();
  const person = randomId();
  const key = await makePersonKey(person, pin, tabletKey);
  await db.personKeys.add(key);
  await save(
    act('person', { person, name, roles: [...roles] }, { signer }),
    act('key', { person, key: key.publicKey, device }, { signer }),
  );
  return person;
}

/** Changes a person's roles. */
export async function changeRoles(person: string, name: string, roles: readonly Role[]): Promise<boolean> {
  const signer = await signerOf(recorder().id, `Change the roles of ${name}`);
  if (!signer) return false;
  await save(act('person', { person, name, roles: [...roles] }, { signer }));
  return true;
}

/** Makes a new key for a person who forgot the PIN; the keeper at the tablet vouches for it. */
export async function newPin(person: string, name: string, pin: string): Promise<boolean> {
  const signer = await signerOf(recorder().id, `Vouch for a new PIN of ${name}`);
  if (!signer) return false;
  const { db, tabletKey, device } = openStore();
  const key = await makePersonKey(person, pin, tabletKey);
  await db.personKeys.add(key);
  await save(act('key', { person, key: key.publicKey, device }, { signer }));
  await db.pinGuards.delete(person);
  return true;
}
