import type { Body } from '../../../shared/logbook/kinds.ts';
import type { ArrangementStatus } from '../../../shared/logbook/state/arrangements.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../app/time.ts';

/** How an arrangement stands, in words. */
export const statusWords = (status: ArrangementStatus): string =>
  ({ open: 'open', due: 'ends soon', overdue: 'past its end', ended: 'ended' })[status];

/** What ends it: `by day 12, 14:00`, or the event that was stated. */
export function endWords(view: View, { endsAt, endsWhen }: Body<'arrangement'>): string {
  const { dayOne, timeZone } = view.genesis;
  if (endsAt === null) return `when ${endsWhen}`;
  return `by ${dayAndTime(endsAt, dayOne, timeZone)}`;
}

/** What it is about: a channel, an instrument, or an operation. */
export const arrangedFor = ({ subject, operation }: Body<'arrangement'>): string =>
  subject.id ? `${subject.kind} ${subject.id}` : `operation ${operation}`;
