import type { Body, Role } from '../../../shared/logbook/kinds.ts';
import { deviceOfRequest, type JoinRequest } from '../../../shared/sync/join-request.ts';
import { signerOf } from '../app/ask-pin.ts';
import { choosePerson, recorder } from '../app/session.ts';
import { openStore, openView } from '../app/tablet.ts';
import { randomId } from '../storage/keys.ts';
import { makePersonKey } from '../storage/person-keys.ts';
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

/**
 * Makes a new key for a person, and retires those that they had on this tablet, so that the old PIN opens nothing
 * that counts. The keeper at the tablet vouches for it.
 */
export async function newPin(person: string, name: string, pin: string): Promise<boolean> {
  const keeper = recorder().id;
  const signer = await signerOf(keeper, `Vouch for a new PIN of ${name}`);
  if (!signer) return false;
  const { db, tabletKey, device } = openStore();
  const old = openView().standing.keysOf(person, device);
  const key = await makePersonKey(person, pin, tabletKey);
  await db.personKeys.add(key);
  await save(
    act('key', { person, key: key.publicKey, device }, { signer }),
    ...old.map((retired) => act('retirement', { key: retired, reason: 'A new PIN' }, { signer })),
  );
  await db.pinGuards.delete(person);
  // A key that stood open may be one of the old ones.
  if (person === keeper) await choosePerson(keeper);
  return true;
}

/**
 * Admits a tablet by its request and vouches for the keys that people made on it. What stands already is not written
 * twice.
 * @returns false when the keeper turned away from the PIN.
 */
export async function admitTablet(request: JoinRequest): Promise<boolean> {
  const signer = await signerOf(recorder().id, `Admit ${request.name}`);
  if (!signer) return false;
  const device = deviceOfRequest(request);
  const { standing } = openView();
  const isHere = standing.tablets().some((t) => t.device === device);
  const wanted = request.people.filter(({ person, key }) => !standing.keysOf(person, device).includes(key));
  const acts = [
    ...(isHere ? [] : [act('device', { device, key: request.key, name: request.name }, { signer })]),
    ...wanted.map(({ person, key }) => act('key', { person, key, device }, { signer })),
  ];
  if (acts.length > 0) await save(...acts);
  return true;
}

/** Retires a person, a tablet or a key, with a reason. Nothing is removed. */
export async function retire(
  what: Pick<Body<'retirement'>, 'person' | 'device' | 'key'>,
  name: string,
  reason: string,
): Promise<boolean> {
  const signer = await signerOf(recorder().id, `Retire ${name}`);
  if (!signer) return false;
  await save(act('retirement', { ...what, reason }, { signer }));
  return true;
}

/** Adopts one branch of a fork, up to and with its last entry that is here. */
export async function adopt(device: string, hash: string, reason: string): Promise<boolean> {
  const signer = await signerOf(recorder().id, 'Adopt a branch');
  if (!signer) return false;
  await save(act('adoption', { device, hash, reason }, { signer }));
  return true;
}
