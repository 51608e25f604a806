import type { Body } from '../../../../shared/logbook/kinds.ts';

/** What is typed and chosen in the form of an arrangement. */
export interface ArrangementTexts {
  what: string;
  /** `channel/CR-1`, `instrument/RA-1` or `other`. */
  about: string;
  owner: string;
  ends: string;
  when: string;
  reason: string;
}

/** Ends that a gloved hand can pick; counted from now. */
export const ENDS: readonly { value: string; label: string; hours: number | null }[] = [
  { value: '2', label: 'in 2 hours', hours: 2 },
  { value: '8', label: 'in 8 hours, a shift', hours: 8 },
  { value: '24', label: 'tomorrow at this time', hours: 24 },
  { value: '72', label: 'in 3 days', hours: 72 },
  { value: '168', label: 'in a week', hours: 168 },
  { value: 'when', label: 'when something happens', hours: null },
];

export const textsOf = (before: Body<'arrangement'> | null, about: string): ArrangementTexts => ({
  what: before?.what ?? '',
  about: about || 'other',
  owner: before?.owner ?? '',
  ends: before?.endsWhen ? 'when' : '',
  when: before?.endsWhen ?? '',
  reason: '',
});

/** What is still to be said; null when nothing is. */
export function missingOf({ what, ends, when, reason }: ArrangementTexts): string | null {
  if (!what.trim()) return 'Say what is different from the plan.';
  if (!ends) return 'Say when it ends: nothing temporary is without an end.';
  if (ends === 'when' && !when.trim()) return 'Say what ends it.';
  return reason.trim() ? null : 'Give the reason.';
}

export function subjectOf(about: string): Body<'arrangement'>['subject'] {
  const [kind, ...id] = about.split('/');
  return kind === 'channel' || kind === 'instrument' ? { kind, id: id.join('/') } : { kind: 'other' };
}
