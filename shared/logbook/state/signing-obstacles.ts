import type { Role } from '../kinds.ts';
import type { HoldState } from './holds.ts';
import { setLimitsOf } from './limit-setters.ts';
import { isIndependent } from './signatures.ts';
import type { View } from './view.ts';

/** What keeps a person from signing in a role, in words; empty when nothing does. */
export function signingObstacles(view: View, state: HoldState, person: string, role: Role): string[] {
  const words = state.missing.map((c) => `${c.title}: ${c.words}`);
  const signedBy = state.signatures.map((s) => s.release.entry.by);
  if (!state.hold.roles.includes(role)) words.push(`${state.hold.id} does not ask for this role.`);
  if (signedBy.includes(person)) words.push('One person signs once; the roles are for different persons.');
  const refused = state.refusals.find((r) => r.body.role !== role);
  if (refused) words.push(`${refused.body.name} refused: ${refused.body.reason}`);
  const lastPlace = state.rolesOpen.length === 1 || state.unsound === 'nobody-independent';
  const independent = [...signedBy, person].some((p) => isIndependent(view, state.hold, p, state.evidence));
  if (lastPlace && !independent) {
    words.push('At least one signer must have taken none of the measurements.');
    if (setLimitsOf(view, state.hold, person)) words.push('Whoever set a limit of it is not the independent signer.');
  }
  return words;
}

/** Why signatures in every role do not release a hold point. */
export const unsoundWords: { readonly [U in NonNullable<HoldState['unsound']>]: string } = {
  'one-person': 'One person signed in two roles. They are for different persons: another signs too.',
  'nobody-independent':
    'Everyone who signed measured or recorded some of the evidence, or set its limits. One who did not signs too.',
};
