import type { Signer } from '../../../shared/logbook/crypto.ts';
import { openPersonKey } from '../storage/person-keys.ts';
import { keepSigner } from './session.ts';
import { openStore, view } from './tablet.ts';

const WAIT_FROM_FAILURE = 3;
const WAIT_FIRST_MS = 5_000;
const WAIT_MOST_MS = 15 * 60_000;

export type PinAnswer = { signer: Signer } | { error: string };

/**
 * Tries a PIN on a person's key of this tablet. After three wrong ones each further one waits longer, also after a
 * restart.
 * @param keepOpen keeps the key open while this person works with the tablet.
 */
export async function enterPin(id: string, pin: string, keepOpen = false): Promise<PinAnswer> {
  const { db, tabletKey } = openStore();
  const guard = (await db.pinGuards.get(id)) ?? { person: id, failures: 0, waitUntil: 0 };
  const wait_ms = guard.waitUntil - Date.now();
  if (wait_ms > 0) return { error: `Too many wrong PINs. Wait ${Math.ceil(wait_ms / 1000)} seconds, then try again.` };
  const vouched = view.value?.standing.keysOf(id, openStore().device) ?? [];
  const rows = (await db.personKeys.where('person').equals(id).toArray()).filter((r) => vouched.includes(r.publicKey));
  if (rows.length === 0)
    return { error: 'This person has no key on this tablet. A keeper of the roster can vouch for one in Setup.' };
  for (const row of rows) {
    const signer = await openPersonKey(row, pin, tabletKey);
    if (!signer) continue;
    await db.pinGuards.delete(id);
    if (keepOpen) keepSigner(id, signer);
    return { signer };
  }
  return { error: await countFailure(guard) };
}

async function countFailure(guard: { person: string; failures: number }): Promise<string> {
  const failures = guard.failures + 1;
  const beyond = failures - WAIT_FROM_FAILURE;
  const wait_ms = beyond < 0 ? 0 : Math.min(WAIT_FIRST_MS * 2 ** beyond, WAIT_MOST_MS);
  await openStore().db.pinGuards.put({ person: guard.person, failures, waitUntil: Date.now() + wait_ms });
  return wait_ms === 0 ? 'That is not the PIN.' : `That is not the PIN. The next try is in ${wait_ms / 1000} seconds.`;
}
