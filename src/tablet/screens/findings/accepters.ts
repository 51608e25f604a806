import type { Disposition, Role } from '../../../../shared/logbook/kinds.ts';
import type { Person } from '../../../../shared/logbook/standing.ts';
import { authority } from '../../../../shared/logbook/state/findings.ts';
import { roleName } from '../../app/words.ts';

/** The role in which a person may accept a decision, or why they may not. */
export type MayAccept = { readonly role: Role } | { readonly why: string };

/** One proposes, another with the authority accepts. */
export function mayAccept(person: Person, decision: Disposition, proposedBy: string): MayAccept {
  const needed = authority[decision];
  if (person.id === proposedBy) return { why: 'proposed it: another person accepts' };
  const role = needed.find((r) => person.roles.includes(r));
  if (role) return { role };
  const has = person.roles.map(roleName).join(', ') || 'no role';
  return { why: `${has}: ${decision} is accepted by ${needed.map(roleName).join(' or ')}` };
}

/** Plain meanings of the five, after ISO 9000:2015, 3.12 (terms related to action). */
export const dispositionMeanings: readonly { readonly value: Disposition; readonly meaning: string }[] = [
  { value: 'rework', meaning: 'Do it again, so that it meets its limits.' },
  { value: 'repair', meaning: 'Mend it, so that it can be used although it may not meet every limit.' },
  { value: 'concession', meaning: 'Use it as it is, outside its limits, as far as agreed.' },
  { value: 'regrade', meaning: 'Use it as something else, with other limits that it meets.' },
  { value: 'scrap', meaning: 'Take it out of use for good.' },
];
