import { differenceInCalendarDays } from 'date-fns/differenceInCalendarDays';

/** Times as the crew says them, in the casting's time zone. */

type Way = 'clock' | 'date';

const ways: Readonly<Record<Way, [locale: string, parts: Intl.DateTimeFormatOptions]>> = {
  clock: ['en-GB', { hour: '2-digit', minute: '2-digit', hour12: false }],
  date: ['en-CA', { year: 'numeric', month: '2-digit', day: '2-digit' }],
};

/** To make one takes a thousand times as long as to use it. */
const formats = new Map<string, Intl.DateTimeFormat>();

function inZone(date: Date, timeZone: string, way: Way): string {
  const key = `${way} ${timeZone}`;
  const [locale, parts] = ways[way];
  const format = formats.get(key) ?? new Intl.DateTimeFormat(locale, { timeZone, ...parts });
  formats.set(key, format);
  return format.format(date);
}

/** `14:32` in the casting's time zone. */
export const clockTime = (at: Date | string, timeZone: string): string => inZone(new Date(at), timeZone, 'clock');

/** `2026-03-01` in the casting's time zone. */
export const dateIn = (at: Date | string, timeZone: string): string => inZone(new Date(at), timeZone, 'date');

/** The casting's day: day 1 is the date on which it was begun. */
export const dayNumber = (at: Date | string, dayOne: string, timeZone: string): number =>
  differenceInCalendarDays(new Date(`${dateIn(at, timeZone)}T00:00`), new Date(`${dayOne}T00:00`)) + 1;

/** `day 44, 14:32`; the form in which lists tell a time. */
export const dayAndTime = (at: Date | string, dayOne: string, timeZone: string): string =>
  `day ${dayNumber(at, dayOne, timeZone)}, ${clockTime(at, timeZone)}`;
