import type { Role } from '../../../shared/logbook/kinds.ts';
import type { HoldState } from '../../../shared/logbook/state/holds.ts';
import { askPin } from '../app/ask-pin.ts';
import { openView } from '../app/tablet.ts';
import { act, save } from './save.ts';

/**
 * Signs a hold point over the evidence as it stands. Always asks for the PIN anew.
 * @returns false when the signer turned away.
 */
export async function release(state: HoldState, person: string, role: Role): Promise<boolean> {
  const signer = await askPin(person, `Sign ${state.hold.id}, ${state.hold.name}`);
  if (!signer) return false;
  const { plan, planHash, standing } = openView();
  await save(
    act(
      'release',
      {
        hold: state.hold.id,
        plan: planHash,
        evidence: [...state.evidence],
        evidenceHash: state.evidenceHash,
        meaning: `${plan.signatureMeaning} ${state.hold.meaning}`,
        name: standing.person(person)!.name,
        role,
      },
      { by: person, signer },
    ),
  );
  return true;
}

/** Refuses a hold point, with a reason. */
export async function refuse(state: HoldState, person: string, role: Role, reason: string): Promise<boolean> {
  const signer = await askPin(person, `Refuse ${state.hold.id}, ${state.hold.name}`);
  if (!signer) return false;
  const { planHash, standing } = openView();
  const name = standing.person(person)!.name;
  await save(act('refusal', { hold: state.hold.id, plan: planHash, reason, name, role }, { by: person, signer }));
  return true;
}
