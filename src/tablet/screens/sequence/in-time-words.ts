import type { InTime } from '../../../../shared/logbook/state/schedule.ts';
import type { GateState } from '../../parts/gate.tsx';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

const counted = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`;

/** A span as people say it: hours up to two days, then days. */
export function spanWords(ms: number): string {
  const hours = Math.round(ms / HOUR_MS);
  return hours < 48 ? counted(hours, 'hour') : counted(Math.round(ms / DAY_MS), 'day');
}

/** Less than half an hour is no slip and no float. */
const isNone = (ms: number): boolean => Math.abs(ms) < HOUR_MS / 2;

/** How a finish stands to the plan's. */
export const slipWords = (slip_ms: number): string =>
  isNone(slip_ms) ? 'on plan' : `${spanWords(Math.abs(slip_ms))} ${slip_ms > 0 ? 'late' : 'early'} against plan`;

/** How far it may still move. On the critical chain that is no more than the wait for a next shift. */
export function floatWords({ critical, totalFloat_ms }: InTime['forecast']): string {
  const float = isNone(totalFloat_ms) ? 'no float' : `float ${spanWords(totalFloat_ms)}`;
  return critical ? `critical, ${float}` : float;
}

/** `12 Mar`, in the casting's time zone. */
export const dayWords = (at_ms: number, timeZone: string): string =>
  new Intl.DateTimeFormat('en-GB', { timeZone, day: 'numeric', month: 'short' }).format(at_ms);

/** `12 Mar 2026`. */
export const dateWords = (at_ms: number, timeZone: string): string =>
  new Intl.DateTimeFormat('en-GB', { timeZone, day: 'numeric', month: 'short', year: 'numeric' }).format(at_ms);

/** From when to when: what was, or what is forecast. */
export function datesWords({ progress, forecast }: InTime, timeZone: string): string {
  const [from, to] = [dayWords(forecast.start_ms, timeZone), dayWords(forecast.finish_ms, timeZone)];
  const both = from === to ? from : `${from} to ${to}`;
  if (progress === 'done') return both;
  return progress === 'under-way' ? `since ${from}, forecast to ${to}` : `forecast ${both}`;
}

/** Slip, and for what is left its float: `12 days late against plan; float 3 days`. */
export function standingWords(one: InTime): string {
  const slip = one.planned ? slipWords(one.slip_ms) : 'not in the first plan';
  return one.progress === 'done' ? slip : `${slip}; ${floatWords(one.forecast)}`;
}

/** A hold point's date: when it was released, or may be ready. */
export const holdDateWords = ({ progress, forecast }: InTime, timeZone: string): string =>
  `${progress === 'done' ? 'released' : 'forecast'} ${dayWords(forecast.finish_ms, timeZone)}`;

/** The same of a hold point; one in doubt has had its date, and wants its signatures again. */
export const holdStandingWords = (one: InTime, state: GateState): string =>
  state === 'in-doubt' ? 'sign again' : standingWords(one);
