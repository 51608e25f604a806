/** When a reading that was typed from paper was observed. */

/** A day and a time of day in a time zone, as an instant; null when it is none. */
export function instantIn(date: string, time: string, timeZone: string): Date | null {
  const naive_ms = Date.parse(`${date}T${time}:00Z`);
  if (!/^\d{4}-\d\d-\d\d$/.test(date) || !/^\d\d:\d\d$/.test(time) || Number.isNaN(naive_ms)) return null;
  // The offset is that of the instant itself: a second look settles it where the clocks change in between.
  const first = naive_ms - offset_ms(naive_ms, timeZone);
  return new Date(naive_ms - offset_ms(first, timeZone));
}

/** How far the clocks of a zone are ahead of UTC at an instant. */
function offset_ms(at_ms: number, timeZone: string): number {
  const parts = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
  }).formatToParts(at_ms);
  const part = (type: string) => parts.find((p) => p.type === type)!.value;
  const there = `${part('year')}-${part('month')}-${part('day')}T${part('hour')}:${part('minute')}:${part('second')}Z`;
  return Date.parse(there) - Math.floor(at_ms / 1000) * 1000;
}

/** A line that is written more than so long after its reading is late. */
const LATE_MS = 4 * 3_600_000;

export const isLate = (observedAt: string, recordedAt: string): boolean =>
  Date.parse(recordedAt) - Date.parse(observedAt) > LATE_MS;

export type Observed = { readonly at: Date } | { readonly fault: string };

/** Reads the date and time that stand on the paper; a time that has not come yet is refused. */
export function readObserved(date: string, time: string, timeZone: string, now: Date): Observed {
  if (date === '' || time === '') return { fault: 'Give the date and the time.' };
  const at = instantIn(date, time, timeZone);
  if (!at) return { fault: `${date} ${time} is not a date and time.` };
  if (at.getTime() > now.getTime()) return { fault: `${date} ${time} has not come yet. Check the date and time.` };
  return { at };
}
