import { ownerOf } from '../../../shared/logbook/state/finding-owner.ts';
import type { Finding } from '../../../shared/logbook/state/findings.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { roleName } from '../app/words.ts';

/** The owner of a finding: a person who was named, or the role that such findings fall to. */
export function ownerWords(view: View, finding: Pick<Finding, 'rule' | 'owner' | 'alarm'>): string {
  const owner = ownerOf(finding);
  return 'person' in owner
    ? (view.standing.person(owner.person)?.name ?? 'somebody not admitted')
    : roleName(owner.role);
}
