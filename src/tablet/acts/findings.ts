import type { Body, Disposition, Role } from '../../../shared/logbook/kinds.ts';
import type { Agreement } from '../../../shared/logbook/state/concession.ts';
import type { Finding } from '../../../shared/logbook/state/findings.ts';
import { askPin } from '../app/ask-pin.ts';
import { openView } from '../app/tablet.ts';
import { needStored } from './photos-stored.ts';
import { act, save } from './save.ts';

/** Raises a finding by hand. */
export async function raiseFinding(body: Body<'finding'>): Promise<unknown> {
  if (body.photos) await needStored(body.photos);
  return save(act('finding', body));
}

export interface Decided {
  readonly decision: Disposition;
  readonly words: string;
  readonly limits?: string;
  /** The customer's name again, for tablets that know no more of an agreement. */
  readonly agreedBy?: string;
  readonly customer?: Agreement;
  readonly proposedBy: string;
  /** Who accepts, in which role. */
  readonly accepter: string;
  readonly role: Role;
}

/**
 * A disposition, signed by the one who accepts it. Always asks for the PIN anew.
 * @returns false when the accepter turned away.
 */
export async function acceptDisposition(finding: Finding, decided: Decided): Promise<boolean> {
  const { accepter, ...said } = decided;
  const signer = await askPin(accepter, `Accept: ${said.decision}`);
  if (!signer) return false;
  const name = openView().standing.person(accepter)!.name;
  await save(
    act('disposition', { finding: finding.id, operation: finding.operation, name, ...said }, { by: accepter, signer }),
  );
  return true;
}

/** Quality closes a finding. @returns false when they turned away from the PIN. */
export async function closeFinding(finding: Finding, person: string, words: string): Promise<boolean> {
  const signer = await askPin(person, 'Close the finding');
  if (!signer) return false;
  const name = openView().standing.person(person)!.name;
  await save(
    act(
      'closure',
      { finding: finding.id, operation: finding.operation, words, name, role: 'quality' },
      { by: person, signer },
    ),
  );
  return true;
}
