import type { RoundsNow } from '../../../shared/logbook/state/rounds.ts';
import { clockTime, dateIn, dayAndTime } from '../app/time.ts';

const MINUTE_MS = 60_000;

/** What round is due, and how long yet or already, in words. */
export function dueWords(
  { timeZone, dayOne }: { timeZone: string; dayOne: string },
  { current, next }: Pick<RoundsNow, 'current' | 'next'>,
  now_ms: number,
): string {
  const at = (ms: number) =>
    dateIn(new Date(ms), timeZone) === dateIn(new Date(now_ms), timeZone)
      ? clockTime(new Date(ms), timeZone)
      : dayAndTime(new Date(ms), dayOne, timeZone);
  if (current) {
    const minutes = Math.round((now_ms - current.due_ms) / MINUTE_MS);
    const when = `Round ${current.number} was due ${at(current.due_ms)}`;
    if (now_ms >= current.lateFrom_ms)
      return `${when}: ${span(minutes)} late. From ${at(current.missedFrom_ms)} it is missed.`;
    return minutes <= 0
      ? `Round ${current.number} is due ${at(current.due_ms)}.`
      : `${when}: ${span(minutes)} ago, still in time until ${at(current.lateFrom_ms)}.`;
  }
  if (!next) return 'No further round is due in this heat.';
  return `Round ${next.number}, ${next.extent}, is due ${at(next.due_ms)}, in ${span(Math.round((next.due_ms - now_ms) / MINUTE_MS))}.`;
}

/** `8 minutes`, `3 h 20`, `24 h`. */
export function span(minutes: number): string {
  if (minutes < 90) return minutes === 1 ? '1 minute' : `${minutes} minutes`;
  const rest = minutes % 60;
  return rest === 0 ? `${minutes / 60} h` : `${Math.floor(minutes / 60)} h ${String(rest).padStart(2, '0')}`;
}
