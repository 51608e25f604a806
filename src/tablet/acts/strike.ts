import { signerOf } from '../app/ask-pin.ts';
import { recorder } from '../app/session.ts';
import type { SignedAct } from '../storage/casting-store.ts';
import { act, save } from './save.ts';

/**
 * Strikes an entry out, and puts others in its place in the same step. The striker signs.
 * @returns false when the striker turned away from the PIN: then nothing was written.
 */
export async function strike(
  target: string,
  reason: string,
  words?: string,
  instead: readonly SignedAct[] = [],
): Promise<boolean> {
  const signer = await signerOf(recorder().id, 'Strike an entry');
  if (!signer) return false;
  await save(act('strike', { target, reason, ...(words ? { words } : {}) }, { signer }), ...instead);
  return true;
}
