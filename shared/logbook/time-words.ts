import { differenceInCalendarDays } from 'date-fns/differenceInCalendarDays';

/** Times as the crew says them, in the casting's time zone. */

const inZone = (date: Date, timeZone: string, parts: Intl.DateTimeFormatOptions): string =>
  new Intl.DateTimeFormat('en-GB', { timeZone, ...parts }).format(date);

/** `14:32` in the casting's time zone. */
export const clockTime = (at: Date | string, timeZone: string): string =>
  inZone(new Date(at), timeZone, { hour: '2-digit', minute: '2-digit', hour12: false });

/** `2026-03-01` in the casting's time zone. */
export const dateIn = (at: Date | string, timeZone: string): string =>
  new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(
    new Date(at),
  );

/** The casting's day: day 1 is the date on which it was begun. */
export const dayNumber = (at: Date | string, dayOne: string, timeZone: string): number =>
  differenceInCalendarDays(new Date(`${dateIn(at, timeZone)}T00:00`), new Date(`${dayOne}T00:00`)) + 1;

/** `day 44, 14:32`; the form in which lists tell a time. */
export const dayAndTime = (at: Date | string, dayOne: string, timeZone: string): string =>
  `day ${dayNumber(at, dayOne, timeZone)}, ${clockTime(at, timeZone)}`;
