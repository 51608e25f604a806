import type { Body } from '../../../shared/logbook/kinds.ts';
import { openView } from '../app/tablet.ts';
import { someone } from '../app/who.ts';
import { act, type Circumstances, save } from './save.ts';

/** States something that a hold point asks for. @returns false when nobody said who they are. */
export async function attest(hold: string, requirement: string, words: string): Promise<boolean> {
  if (!(await someone())) return false;
  await save(act('attestation', { hold, requirement, words, plan: openView().planHash }));
  return true;
}

/** Records what came of a witness point, and when, where that was not now. @returns false when nobody said who they are. */
export async function witnessed(
  witness: string,
  what: Body<'witness'>['act'],
  words: string,
  when: Circumstances = {},
): Promise<boolean> {
  if (!(await someone())) return false;
  await save(act('witness', { witness, act: what, ...(words ? { words } : {}) }, when));
  return true;
}
