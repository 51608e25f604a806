import type { Body } from '../../../shared/logbook/kinds.ts';
import { signerOf } from '../app/ask-pin.ts';
import { recorder } from '../app/session.ts';
import { act, save } from './save.ts';

/** Writes the hall's emergency numbers; the keeper at the tablet signs. False when they turned away from the PIN. */
export async function writeHall(hall: Body<'hall'>): Promise<boolean> {
  const signer = await signerOf(recorder().id, "The hall's emergency numbers");
  if (!signer) return false;
  await save(act('hall', hall, { signer }));
  return true;
}
