import { signal } from '@preact/signals';
import { formatISO } from 'date-fns/formatISO';

export { clockTime, dateIn, dayAndTime, dayNumber } from '../../../shared/logbook/time-words.ts';

/** The wall clock, for what is shown; it moves every few seconds. */
export const now = signal(new Date());

export const startClock = (): void => {
  setInterval(() => {
    now.value = new Date();
  }, 5_000);
};

/** ISO 8601 with this tablet's offset, as entries keep it. */
export const isoWithOffset = (date: Date = new Date()): string => formatISO(date);

/** A date of the calendar, as `2026-03-01`. */
export const isDate = (text: string): boolean =>
  /^\d{4}-\d\d-\d\d$/.test(text) && new Date(`${text}T00:00Z`).toJSON()?.slice(0, 10) === text;
