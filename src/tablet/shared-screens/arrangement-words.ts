import type { Body } from '../../../shared/logbook/kinds.ts';
import type { Arrangement } from '../../../shared/logbook/state/arrangements.ts';
import { clockTime, dateIn, dayAndTime } from '../app/time.ts';
import { span } from './due-words.ts';

const MINUTE_MS = 60_000;

interface Zone {
  readonly timeZone: string;
  readonly dayOne: string;
}

/** What an arrangement is about: `channel BD-3`, `instrument`; nothing for other things. */
export const aboutWords = ({ kind, id }: Body<'arrangement'>['subject']): string =>
  [...(kind === 'other' ? [] : [kind]), ...(id === undefined ? [] : [id])].join(' ');

/** When an arrangement ends and how long yet, or how long it is past that: `ends 16:00, in 80 minutes, or when …`. */
export function endWords(
  zone: Zone,
  { endsAt_ms, endsWhen }: Pick<Arrangement, 'endsAt_ms'> & { readonly endsWhen: string | null },
  now_ms: number,
): string {
  const condition = endsWhen === null ? '' : `when ${endsWhen}`;
  if (endsAt_ms === null) return `ends ${condition}`;
  const at = momentIn(zone, endsAt_ms, now_ms);
  const minutes = Math.round((endsAt_ms - now_ms) / MINUTE_MS);
  if (now_ms > endsAt_ms) return `should have ended ${at}, ${span(Math.max(1, -minutes))} ago`;
  return `ends ${at}, in ${span(minutes)}${condition && `, or ${condition}`}`;
}

/** A time of today as the clock says it; of another day with the casting's day. */
const momentIn = ({ timeZone, dayOne }: Zone, at_ms: number, now_ms: number): string =>
  dateIn(new Date(at_ms), timeZone) === dateIn(new Date(now_ms), timeZone)
    ? clockTime(new Date(at_ms), timeZone)
    : dayAndTime(new Date(at_ms), dayOne, timeZone);
