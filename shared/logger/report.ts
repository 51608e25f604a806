import type { NumberFault } from './read-number.ts';
import type { TimeFault } from './read-time.ts';

/** Why a row, or one value of it, is not taken. */
export type RowReason = TimeFault | 'too-few' | 'too-many' | 'same-time' | 'ahead';
export type CellReason = NumberFault | 'below-absolute-zero' | 'implausible' | 'no-junction' | 'no-temperature';
export type Reason = RowReason | CellReason;

/** Lines that follow one another, first and last. */
export type LineRange = readonly [from: number, to: number];

/** Everything that is not taken for one reason: every line of it. */
export interface Refused {
  readonly reason: Reason;
  /** The column of the values; null where the whole row is not taken. */
  readonly column: string | null;
  readonly count: number;
  readonly lines: readonly LineRange[];
  /** The first such text. */
  readonly example: string;
}

/** What was made of a logger file. */
export interface LoggerReport {
  /** Rows of values in the file, and those of them that are taken. */
  readonly rows: number;
  readonly taken: number;
  readonly samples: number;
  readonly emptyCells: number;
  readonly from_ms: number;
  readonly to_ms: number;
  readonly refused: readonly Refused[];
  /** Rows that stood before an earlier row's time, and were put in order. */
  readonly outOfOrder: number;
  /** Times in an hour that comes twice, told apart by the row before. */
  readonly repeatedHour: number;
}

/** Gathers what is not taken, by reason and column, without keeping a line each. */
export class Refusals {
  private readonly byKey = new Map<string, { refused: Refused; lines: [number, number][]; count: number }>();

  add(reason: Reason, line: number, example: string, column: string | null = null): void {
    const key = `${reason}|${column ?? ''}`;
    let found = this.byKey.get(key);
    if (!found) {
      const lines: [number, number][] = [];
      found = { refused: { reason, column, count: 0, lines, example: example.slice(0, 60) }, lines, count: 0 };
      this.byKey.set(key, found);
    }
    found.count += 1;
    const last = found.lines.at(-1);
    if (last && line === last[1] + 1) last[1] = line;
    else found.lines.push([line, line]);
  }

  all(): Refused[] {
    return [...this.byKey.values()]
      .map(({ refused, count }) => ({ ...refused, count }))
      .sort((a, b) => Number(a.column !== null) - Number(b.column !== null) || b.count - a.count);
  }

  /** Rows, not values. */
  rowCount(): number {
    return this.all().reduce((sum, r) => sum + (r.column === null ? r.count : 0), 0);
  }
}

const rowWords: Readonly<Record<RowReason, string>> = {
  'no-time': 'without a time',
  'time-unreadable': 'with a time that cannot be read',
  'other-date-order': 'with a date in another order than the rest',
  'time-skipped': 'with a time that no clock showed: it was put forward over it',
  'no-offset': 'without an offset from UTC',
  'too-few': 'with fewer columns than wanted',
  'too-many': 'with more columns than the others: is the decimal mark also the delimiter?',
  'same-time': 'with the time of a row before, and other values',
  ahead: "ahead of this tablet's clock",
};

const cellWords: Readonly<Record<CellReason, string>> = {
  'not-a-number': 'no number',
  'other-decimal-mark': 'with the other decimal mark',
  'not-finite': 'no finite number: an open circuit or an overflow',
  'below-absolute-zero': 'below absolute zero, −273.15 °C',
  'no-junction': 'without a temperature of its reference junction',
  'no-temperature': 'no emf of this type of thermocouple',
  implausible: 'outside what a furnace channel can read: a fill value of the logger',
};

/** How much is not taken and why, in words: `1 row without a time`. */
export function reasonWords({ reason, column, count }: Pick<Refused, 'reason' | 'column' | 'count'>): string {
  const what = `${count} ${column === null ? 'row' : 'value'}${count === 1 ? '' : 's'}`;
  return column === null
    ? `${what} ${rowWords[reason as RowReason]}`
    : `${what} of ${column} ${cellWords[reason as CellReason]}`;
}

/** `12, 40–44`: all of them, or as many as asked. */
export function linesWords(lines: readonly LineRange[], most = Number.POSITIVE_INFINITY): string {
  const shown = lines.slice(0, most).map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`));
  return `${shown.join(', ')}${lines.length > most ? ' …' : ''}`;
}

/** The whole report as a text to keep: every line that is not taken, and why. */
export function reportText(name: string, report: LoggerReport): string {
  return [
    `${name}: ${report.taken} of ${report.rows} rows taken, ${report.samples} samples.`,
    `From ${new Date(report.from_ms).toISOString()} to ${new Date(report.to_ms).toISOString()}.`,
    ...report.refused.map((r) => `${reasonWords(r)} ("${r.example}"): lines ${linesWords(r.lines)}.`),
    ...(report.outOfOrder > 0 ? [`${report.outOfOrder} rows stood out of order in time and were put in order.`] : []),
    '',
  ].join('\n');
}
