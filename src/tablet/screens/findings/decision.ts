import type { Disposition } from '../../../../shared/logbook/kinds.ts';
import type { Person } from '../../../../shared/logbook/standing.ts';
import type { Decided } from '../../acts/findings.ts';
import { mayAccept } from './accepters.ts';

/** A decision as it is being written. Empty strings are nothing chosen. */
export interface DecisionDraft {
  readonly decision: Disposition | '';
  readonly words: string;
  readonly limits: string;
  readonly agreedBy: string;
  readonly proposedBy: string;
  readonly accepter: string;
}

export const emptyDecision: DecisionDraft = {
  decision: '',
  words: '',
  limits: '',
  agreedBy: '',
  proposedBy: '',
  accepter: '',
};

/** What is signed, or what is still to be said. `accepter` is the person that the draft names. */
export function decidedOf(draft: DecisionDraft, accepter: Person | null): Decided | { ask: string } {
  const { decision, proposedBy } = draft;
  const words = draft.words.trim();
  const limits = draft.limits.trim();
  const agreedBy = draft.agreedBy.trim();
  if (decision === '') return { ask: 'Choose a disposition.' };
  if (words === '') return { ask: 'Say what is to be done, and why.' };
  if (decision === 'concession' && limits === '') return { ask: 'Say how far the concession goes.' };
  if (decision === 'concession' && agreedBy === '') return { ask: 'Say who agreed to the concession.' };
  if (!accepter) return { ask: 'Choose who accepts it.' };
  const may = mayAccept(accepter, decision, proposedBy);
  if ('why' in may) return { ask: `${accepter.name} cannot accept it: ${may.why}.` };
  const more = decision === 'concession' ? { limits, agreedBy } : {};
  return { decision, words, proposedBy, accepter: accepter.id, role: may.role, ...more };
}
