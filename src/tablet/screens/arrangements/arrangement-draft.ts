import type { Body } from '../../../../shared/logbook/kinds.ts';
import { instantIn } from '../../app/observed-at.ts';
import { isoWithOffset } from '../../app/time.ts';

export type SubjectKind = Body<'arrangement'>['subject']['kind'];

/** When it ends, as typed. */
export interface EndTexts {
  readonly date: string;
  readonly time: string;
  readonly when: string;
}

export interface ArrangementTexts extends EndTexts {
  readonly kind: SubjectKind | '';
  /** Channel or instrument; empty for one that the plan and the register do not have. */
  readonly subject: string;
  readonly what: string;
  readonly reason: string;
  readonly owner: string;
  readonly operation: string;
}

export const emptyTexts: ArrangementTexts = {
  kind: '',
  subject: '',
  what: '',
  reason: '',
  owner: '',
  operation: '',
  date: '',
  time: '',
  when: '',
};

export type Ask = { readonly ask: string };
type End = Pick<Body<'arrangement'>, 'endsAt' | 'endsWhen'>;

/** When it ends, or what is still to be said: a time, a condition, or both. */
export function readEnd({ date, time, when }: EndTexts, timeZone: string): End | Ask {
  const endsWhen = when.trim() || null;
  if (time === '' && endsWhen === null) return { ask: 'Say when it ends at the latest, or what ends it.' };
  if (time === '') return { endsAt: null, endsWhen };
  const at = instantIn(date, time, timeZone);
  return at ? { endsAt: isoWithOffset(at), endsWhen } : { ask: `${date} ${time} is not a date and time.` };
}

/** The line that the texts make, or what is still to be said. */
export function readArrangement(
  texts: ArrangementTexts,
  timeZone: string,
): Omit<Body<'arrangement'>, 'arrangement'> | Ask {
  const { kind, subject, operation, owner } = texts;
  const what = texts.what.trim();
  const reason = texts.reason.trim();
  if (kind === '') return { ask: 'Say what it is about.' };
  if (kind === 'channel' && subject === '') return { ask: 'Choose the channel.' };
  if (what === '') return { ask: 'Say what is different for now.' };
  if (reason === '') return { ask: 'Say why.' };
  if (owner === '') return { ask: 'Choose an owner: the one who sees that it ends.' };
  const end = readEnd(texts, timeZone);
  if ('ask' in end) return end;
  return { operation, what, subject: { kind, ...(subject ? { id: subject } : {}) }, owner, reason, ...end };
}
