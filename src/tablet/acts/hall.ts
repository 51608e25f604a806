import type { Body } from '../../../shared/logbook/kinds.ts';
import { signerOf } from '../app/ask-pin.ts';
import { recorder } from '../app/session.ts';
import { act, save } from './save.ts';

/** Keeps the hall's numbers; the keeper at the tablet signs. @returns false when they turned away from the PIN. */
export async function keepHall(body: Body<'hall'>): Promise<boolean> {
  const signer = await signerOf(recorder().id, "Keep the hall's numbers");
  if (!signer) return false;
  await save(act('hall', body, { signer }));
  return true;
}
