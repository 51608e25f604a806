import type { Plan } from '../../../shared/plan/schema.ts';
import { askPin } from '../app/ask-pin.ts';
import { act, save } from './save.ts';

/**
 * Signs a plan revision that follows the ones named. Always asks for the PIN anew.
 * @returns false when the signer turned away.
 */
export async function signRevision(
  plan: Plan,
  parents: readonly string[],
  reason: string,
  person: string,
): Promise<boolean> {
  const signer = await askPin(person, `Sign plan revision ${plan.revision}`);
  if (!signer) return false;
  await save(act('plan', { plan, parents: [...parents], reason }, { by: person, signer }));
  return true;
}
