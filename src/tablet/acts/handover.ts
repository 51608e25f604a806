import type { Body } from '../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../shared/logbook/log.ts';
import { handoverBody, type Prepared } from '../../../shared/logbook/state/handover.ts';
import { HANDOVER_ROLE, type Refusal, type TalkedItem } from '../../../shared/logbook/state/handovers.ts';
import { askPin } from '../app/ask-pin.ts';
import { choosePerson } from '../app/session.ts';
import { openView } from '../app/tablet.ts';
import { someone } from '../app/who.ts';
import { act, save } from './save.ts';

/**
 * Signs a handover as it was prepared and completed. Always asks for the PIN anew.
 * @returns false when the outgoing lead turned away.
 */
export async function handOver(
  prepared: Prepared,
  said: Readonly<Record<string, string>>,
  lead: string,
): Promise<Kept[] | false> {
  const signer = await askPin(lead, 'Hand the shift over');
  if (!signer) return false;
  const view = openView();
  const body = handoverBody(view, prepared, said, view.standing.person(lead)!.name);
  return save(act('handover', body, { by: lead, signer }));
}

/** Keeps what was talked through. @returns false when nobody said who they are. */
export async function talkedThrough(
  handover: string,
  incoming: string,
  items: readonly TalkedItem[],
): Promise<Kept[] | false> {
  if (!(await someone())) return false;
  return save(act('talk', { handover, incoming, items: [...items] }));
}

export type CrossCheck = Body<'handover-answer'>['check'];

/**
 * The incoming lead accepts a handover, or refuses items of it. Whoever accepts has the tablet from then on.
 * @returns false when they turned away from the PIN.
 */
export async function answerHandover(
  handover: string,
  lead: string,
  refused: readonly Refusal[],
  check: CrossCheck,
): Promise<boolean> {
  const accepts = refused.length === 0;
  const signer = await askPin(lead, accepts ? 'Take the shift over' : 'Refuse items of the handover');
  if (!signer) return false;
  const { name } = openView().standing.person(lead)!;
  await save(
    act('handover-answer', { handover, refused: [...refused], check, name, role: HANDOVER_ROLE }, { by: lead, signer }),
  );
  if (accepts) await choosePerson(lead);
  return true;
}
