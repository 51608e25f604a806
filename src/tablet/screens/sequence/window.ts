import { ZoneDays } from '../../../../shared/plan/network/zone-days.ts';

const DAY_MS = 86_400_000;

/** The stretch of time that the chart shows. */
export interface Window {
  readonly from_ms: number;
  readonly to_ms: number;
}

export type Zoom = 'whole' | 'months' | 'weeks';

const DAYS: Readonly<Record<Exclude<Zoom, 'whole'>, number>> = { months: 84, weeks: 21 };

/** How far one step to earlier or later goes, as a share of the window. */
const STEP = 0.5;

/** The window of a zoom, with now at its first third, moved by steps; never wholly outside the casting. */
export function windowOf(zoom: Zoom, steps: number, whole: Window, now_ms: number): Window {
  if (zoom === 'whole') return whole;
  const span = DAYS[zoom] * DAY_MS;
  const wanted = now_ms - span / 3 + steps * STEP * span;
  const from_ms = Math.max(whole.from_ms, Math.min(wanted, whole.to_ms - span / 2));
  return { from_ms, to_ms: from_ms + span };
}

/** Where an instant lies, in percent of the window. */
export const percent = (at_ms: number, { from_ms, to_ms }: Window): number =>
  (100 * (at_ms - from_ms)) / (to_ms - from_ms);

export interface Tick {
  readonly at_ms: number;
  /** Empty where the next label would stand too near. */
  readonly label: string;
}

/** First days of months, Mondays, or days. */
export function ticksOf(zoom: Zoom, shown: Window, timeZone: string): Tick[] {
  const zone = new ZoneDays(timeZone);
  const format = (parts: Intl.DateTimeFormatOptions) => new Intl.DateTimeFormat('en-GB', { timeZone, ...parts });
  const month = format({ month: 'short' });
  const date = format({ day: 'numeric', month: 'short' });
  const dayOfMonth = format({ day: 'numeric' });
  const weekday = format({ weekday: 'short' });
  const ticks: Tick[] = [];
  let weeks = 0;
  for (let day = zone.dayOf(shown.from_ms); zone.at(day, 0) < shown.to_ms; day++) {
    const at_ms = zone.at(day, 0);
    if (at_ms < shown.from_ms) continue;
    const first = dayOfMonth.format(at_ms) === '1';
    const monday = weekday.format(at_ms) === 'Mon';
    if (zoom === 'whole' && first) ticks.push({ at_ms, label: month.format(at_ms) });
    if (zoom === 'months' && monday) ticks.push({ at_ms, label: weeks++ % 3 === 0 ? date.format(at_ms) : '' });
    if (zoom === 'weeks') ticks.push({ at_ms, label: monday ? date.format(at_ms) : '' });
  }
  return ticks;
}
