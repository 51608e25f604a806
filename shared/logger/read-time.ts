import { type DateOrder, OWN_OFFSET } from './mapping.ts';
import { ZoneClock } from './zone-clock.ts';

/** Why a text is no time. */
export type TimeFault = 'no-time' | 'time-unreadable' | 'other-date-order' | 'time-skipped' | 'no-offset';

/** A time as it is written, before anybody knows its zone. */
interface Written {
  /** What the clock shows, written as if it were UTC. */
  readonly shown_ms: number;
  /** Minutes ahead of UTC, where the text says so. */
  readonly offset_min: number | null;
}

const CLOCK = String.raw`(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?\s*([ap]\.?m\.?)?`;
const ZONE = String.raw`\s*(Z|UTC|GMT|[+-]\d{2}(?::?\d{2})?)?`;
const yearFirst = new RegExp(String.raw`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ,]\s*${CLOCK})?${ZONE}$`, 'i');
const yearLast = new RegExp(
  String.raw`^(\d{1,2})[-/. ](\d{1,2}|[a-z]{3,9})[-/. ](\d{4}|\d{2})(?:[T ,]\s*${CLOCK})?${ZONE}$`,
  'i',
);
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
/** Plain counts from 1970 between 2000 and 2100. */
const SECONDS = [946_684_800, 4_102_444_800] as const;

/** The orders in which a text can be a date; several where only a person can say. */
export function ordersOf(text: string): DateOrder[] {
  if (/^\d{9,13}(\.\d+)?$/.test(text)) {
    const count = Number(text);
    if (count >= SECONDS[0] && count < SECONDS[1]) return ['unix-s'];
    return count >= SECONDS[0] * 1000 && count < SECONDS[1] * 1000 ? ['unix-ms'] : [];
  }
  return (['ymd', 'dmy', 'mdy'] as const).filter((order) => written(text, order) !== null);
}

/** Whether a text tells its own offset from UTC. */
export const tellsOffset = (text: string): boolean => {
  const order = ordersOf(text)[0];
  return order !== undefined && (written(text, order)?.offset_min ?? null) !== null;
};

/** Reads the times of one file, row after row. */
export class TimeReader {
  private readonly order: DateOrder;
  private readonly clock: ZoneClock | null;
  /** How many times stood in an hour that came twice, and were told apart by the row before. */
  repeated = 0;

  constructor(order: DateOrder, zone: string) {
    this.order = order;
    this.clock = zone === OWN_OFFSET ? null : new ZoneClock(zone);
  }

  /** @param before_ms the row before: in an hour that comes twice the clock goes on from there */
  read(text: string, before_ms: number): number | TimeFault {
    if (text === '') return 'no-time';
    if (this.order === 'unix-s' || this.order === 'unix-ms') return this.counted(text);
    const found = written(text, this.order);
    if (!found) return ordersOf(text).length > 0 ? 'other-date-order' : 'time-unreadable';
    if (found.offset_min !== null) return found.shown_ms - found.offset_min * 60_000;
    if (!this.clock) return 'no-offset';
    const [first, second] = this.clock.instants(found.shown_ms);
    if (first === undefined) return 'time-skipped';
    if (second === undefined) return first;
    this.repeated += 1;
    return first > before_ms ? first : second;
  }

  private counted(text: string): number | TimeFault {
    const [order] = ordersOf(text);
    if (order === this.order) return Number(text) * (order === 'unix-s' ? 1000 : 1);
    return order === undefined && ordersOf(text).length === 0 ? 'time-unreadable' : 'other-date-order';
  }
}

function written(text: string, order: DateOrder): Written | null {
  const parts = (order === 'ymd' ? yearFirst : yearLast).exec(text);
  if (!parts) return null;
  const [a, b, c] = [parts[1]!, parts[2]!, parts[3]!];
  const named = MONTHS.indexOf(b.slice(0, 3).toLowerCase()) + 1;
  // A month in letters leaves only one order.
  if (order === 'mdy' && named > 0) return null;
  const [year, month, day] =
    order === 'ymd' ? [a, b, c] : order === 'dmy' ? [c, named > 0 ? String(named) : b, a] : [c, a, b];
  const date = dateOf(Number(year.length === 2 ? `20${year}` : year), Number(month), Number(day));
  const clock_ms = clockOf(parts.slice(4, 9));
  if (date === null || clock_ms === null) return null;
  return { shown_ms: date + clock_ms, offset_min: offsetOf(parts[9]) };
}

/** The midnight of a date that the calendar has, as if it were UTC. */
function dateOf(year: number, month: number, day: number): number | null {
  const at = Date.UTC(year, month - 1, day);
  const back = new Date(at);
  const real = year >= 2000 && year < 2100 && back.getUTCMonth() === month - 1 && back.getUTCDate() === day;
  return real ? at : null;
}

function clockOf([h, m, s, fraction, half]: (string | undefined)[]): number | null {
  if (h === undefined) return 0;
  const [hour, minute, second] = [Number(h), Number(m), Number(s ?? 0)];
  if (minute > 59 || second > 59 || hour > 23 || (half && (hour < 1 || hour > 12))) return null;
  const of24 = half ? (hour % 12) + (/^p/i.test(half) ? 12 : 0) : hour;
  return ((of24 * 60 + minute) * 60 + second) * 1000 + Math.round(Number(`0.${fraction ?? 0}`) * 1000);
}

function offsetOf(zone: string | undefined): number | null {
  if (zone === undefined) return null;
  if (/^[a-z]/i.test(zone)) return 0;
  const sign = zone.startsWith('-') ? -1 : 1;
  return sign * (Number(zone.slice(1, 3)) * 60 + Number(zone.slice(3).replace(':', '') || 0));
}
