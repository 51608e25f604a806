import type { Disposition } from '../../../../shared/logbook/kinds.ts';
import type { Person } from '../../../../shared/logbook/standing.ts';
import type { Agreement } from '../../../../shared/logbook/state/concession.ts';
import type { Decided } from '../../acts/findings.ts';
import { isDate } from '../../app/time.ts';
import { mayAccept } from './accepters.ts';

/** A decision as it is being written. Empty strings are nothing chosen. */
export interface DecisionDraft {
  readonly decision: Disposition | '';
  readonly words: string;
  readonly limits: string;
  /** Who of the customer agreed. */
  readonly customer: string;
  readonly how: Agreement['how'] | '';
  /** The date on which they agreed. */
  readonly on: string;
  /** The letter, or the note of the call. */
  readonly reference: string;
  readonly proposedBy: string;
  readonly accepter: string;
}

export const emptyDecision: DecisionDraft = {
  decision: '',
  words: '',
  limits: '',
  customer: '',
  how: '',
  on: '',
  reference: '',
  proposedBy: '',
  accepter: '',
};

/**
 * What is signed, or what is still to be said. `accepter` is the person that the draft names.
 * @param today the casting's date: nobody has agreed on a later one
 */
export function decidedOf(draft: DecisionDraft, accepter: Person | null, today: string): Decided | { ask: string } {
  const { decision, proposedBy } = draft;
  const words = draft.words.trim();
  if (decision === '') return { ask: 'Choose a disposition.' };
  if (words === '') return { ask: 'Say what is to be done, and why.' };
  const conceded = decision === 'concession' ? concededOf(draft, today) : null;
  if (conceded && 'ask' in conceded) return conceded;
  if (!accepter) return { ask: 'Choose who accepts it.' };
  const may = mayAccept(accepter, decision, proposedBy);
  if ('why' in may) return { ask: `${accepter.name} cannot accept it: ${may.why}.` };
  return { decision, words, proposedBy, accepter: accepter.id, role: may.role, ...conceded };
}

type Conceded = Required<Pick<Decided, 'limits' | 'agreedBy' | 'customer'>>;

/** What a concession says besides: how far it goes, and how the customer agreed. */
function concededOf({ how, on, ...typed }: DecisionDraft, today: string): Conceded | { ask: string } {
  const limits = typed.limits.trim();
  const name = typed.customer.trim();
  const reference = typed.reference.trim();
  if (limits === '') return { ask: 'Say how far the concession goes.' };
  if (name === '') return { ask: 'Say who of the customer agreed to the concession.' };
  if (how === '') return { ask: 'Say how the customer agreed: by letter, by call, or present.' };
  if (!isDate(on)) return { ask: 'Give the date on which the customer agreed.' };
  if (on > today) return { ask: `${on} has not come yet. Give the date on which the customer agreed.` };
  if (how !== 'present' && reference === '') return { ask: referenceAsked[how] };
  return { limits, agreedBy: name, customer: { name, how, on, ...(reference ? { reference } : {}) } };
}

const referenceAsked = {
  letter: 'Name the letter: its number, or where it is kept.',
  call: 'Name the note of the call: its number, or where it is kept.',
} as const;
