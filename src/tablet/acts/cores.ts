import type { Body } from '../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../shared/logbook/log.ts';
import { signerOf } from '../app/ask-pin.ts';
import { openView } from '../app/tablet.ts';
import { someone } from '../app/who.ts';
import { act, save } from './save.ts';

type Said<K extends 'check' | 'core' | 'core-change'> = Omit<Body<K>, 'plan' | 'observer'>;

/** Which core stands at an address. False when nobody says who they are. */
export const recordSerial = (said: Said<'core'>): Promise<boolean> => record('core', said);

/** One item of the check sheet, answered at a range of cores: one entry, and one strike undoes it. */
export const recordCheck = (said: Said<'check'>): Promise<boolean> => record('check', said);

async function record<K extends 'check' | 'core'>(kind: K, said: Said<K>): Promise<boolean> {
  const who = await someone();
  if (!who) return false;
  await save(act(kind, { ...said, plan: openView().planHash, observer: who.id } as unknown as Body<K>));
  return true;
}

/**
 * Another core takes the place of the one at an address. It is signed, since readings stop counting with it.
 * @returns null when the signer turned away: then nothing was written.
 */
export async function changeCore(said: Omit<Said<'core-change'>, 'name'>): Promise<Kept | null> {
  const who = await someone();
  const signer = who && (await signerOf(who.id, 'Change a core'));
  if (!signer) return null;
  const body = { ...said, plan: openView().planHash, observer: who.id, name: who.name };
  const [kept] = await save(act('core-change', body, { signer }));
  return kept ?? null;
}
