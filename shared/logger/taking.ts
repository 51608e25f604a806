import { EmfReader } from './emf-reader.ts';
import { FileFault, MOST_ROWS } from './file-fault.ts';
import { DEGREES, EMF, type Emf, inChannelUnit, type LoggerMapping } from './mapping.ts';
import { type ReadColumn, readColumns } from './read-columns.ts';
import { readNumber } from './read-number.ts';
import { TimeReader } from './read-time.ts';
import { type CellReason, type LoggerReport, Refusals, reasonWords } from './report.ts';
import type { TableRow } from './table-reader.ts';

/** What a logger file gives: one time axis, a value or NaN at each time for each channel. */
export interface Samples {
  /** Instants, ms, rising. */
  readonly times: Float64Array<ArrayBuffer>;
  readonly channels: readonly { readonly channel: string; readonly values: Float32Array<ArrayBuffer> }[];
}

export interface Taken {
  readonly samples: Samples;
  readonly report: LoggerReport;
}

/** The columns of a row that one channel is read from. */
const cellsRead = (read: ReadColumn): number[] =>
  'emf' in read && 'column' in read.emf.junction ? [read.column, read.emf.junction.column] : [read.column];

const ABSOLUTE_ZERO_C = -273.15;
/** What any thermocouple type and any hall can show; fill values such as 9999 lie beyond. */
const PLAUSIBLE_C = [-60, 1800] as const;
/** Clocks of logger and tablet may differ by so much. */
const AHEAD_MS = 3_600_000;
const FIRST_ROOM = 4096;

/** Takes the rows of a logger file, as they come, under a mapping; what it does not take it lists. */
export class Taking {
  private readonly mapping: LoggerMapping;
  private readonly columns: readonly ReadColumn[];
  private readonly now_ms: number;
  private readonly times: TimeReader;
  private readonly refusals = new Refusals();
  private readonly emfs = new Map<Emf['type'], EmfReader>();
  private readonly widest: number;
  private width: number | null = null;
  private room = FIRST_ROOM;
  private at = new Float64Array(FIRST_ROOM);
  private lines = new Uint32Array(FIRST_ROOM);
  private values: Float32Array<ArrayBuffer>[];
  private rows = 0;
  private count = 0;
  private emptyCells = 0;
  private outOfOrder = 0;
  private latest_ms = Number.NEGATIVE_INFINITY;
  private before_ms = Number.NEGATIVE_INFINITY;

  /**
   * @param now_ms rows further ahead than an hour are not taken: a clock, or the order of the date, is wrong
   * @throws {FileFault} for a mapping that reads one channel or column twice
   */
  constructor(mapping: LoggerMapping, now_ms: number) {
    checkMapping(mapping);
    for (const { emf } of mapping.emfColumns ?? [])
      if (!this.emfs.has(emf.type)) this.emfs.set(emf.type, new EmfReader(emf.type));
    this.mapping = mapping;
    this.columns = readColumns(mapping);
    this.now_ms = now_ms;
    this.times = new TimeReader(mapping.time.order, mapping.time.zone);
    this.widest = Math.max(mapping.time.column, mapping.time.clockColumn ?? 0, ...this.columns.flatMap(cellsRead));
    this.values = this.columns.map(() => new Float32Array(FIRST_ROOM));
  }

  /** @throws {FileFault} where the file has more rows, or fewer columns, than can be taken */
  push(rows: readonly TableRow[]): void {
    for (const row of rows) {
      if (row.line <= this.mapping.headerLine) {
        if (row.line === this.mapping.headerLine) this.checkHeader(row);
      } else this.row(row);
    }
  }

  /** @throws {FileFault} when no row at all could be taken */
  finish(): Taken {
    if (this.rows === 0) throw new FileFault('no-rows', 'The file has names of columns at most, and no row of values.');
    const samples = this.inOrder();
    const taken = samples.times.length;
    const refused = this.refusals.all();
    const [first] = refused;
    if (taken === 0)
      throw new FileFault(
        'nothing-taken',
        `None of ${this.rows} rows can be taken: ${first ? `${reasonWords(first)} ("${first.example}")` : 'they are empty'}.`,
      );
    const counted = samples.channels.reduce(
      (sum, { values }) => sum + values.filter((v) => !Number.isNaN(v)).length,
      0,
    );
    if (counted === 0)
      throw new FileFault(
        'nothing-taken',
        `No value of ${taken} rows can be taken: ${first ? `${reasonWords(first)} ("${first.example}")` : 'all of them are empty'}.`,
      );
    return {
      samples,
      report: {
        rows: this.rows,
        taken,
        samples: counted,
        emptyCells: this.emptyCells,
        from_ms: samples.times[0]!,
        to_ms: samples.times[taken - 1]!,
        refused,
        outOfOrder: this.outOfOrder,
        repeatedHour: this.times.repeated,
      },
    };
  }

  private checkHeader({ cells }: TableRow): void {
    this.width = cells.length;
    if (cells.length <= this.widest)
      throw new FileFault(
        'columns-missing',
        `The mapping reads column ${this.widest + 1}, and the file has ${cells.length}. Is the delimiter right?`,
      );
    const moved = this.columns.find((c) => c.name !== '' && cells[c.column] !== c.name);
    if (moved)
      throw new FileFault(
        'columns-missing',
        `Column ${moved.column + 1} should be "${moved.name}", and the file calls it "${cells[moved.column]}".`,
      );
  }

  private row({ line, cells }: TableRow): void {
    this.rows += 1;
    if (this.rows > MOST_ROWS)
      throw new FileFault('too-many-rows', `The file has more than ${MOST_ROWS} rows. Cut it in parts.`);
    this.width ??= cells.length;
    const shape = this.shapeFault(cells);
    if (shape) {
      this.refusals.add(shape, line, cells.join(' '));
      return;
    }
    const at_ms = this.time(line, cells);
    if (at_ms !== null) this.keep(line, at_ms, cells);
  }

  private shapeFault(cells: readonly string[]): 'too-few' | 'too-many' | null {
    if (cells.length <= this.widest) return 'too-few';
    // A delimiter at the end of every row is common; what stands in a column that has no name is not.
    return cells.slice(this.width ?? cells.length).some((c) => c !== '') ? 'too-many' : null;
  }

  private time(line: number, cells: readonly string[]): number | null {
    const { column, clockColumn } = this.mapping.time;
    const date = cells[column]!;
    const text = clockColumn === undefined || date === '' ? date : `${date} ${cells[clockColumn]}`;
    const read = this.times.read(text, this.before_ms);
    if (typeof read === 'string') this.refusals.add(read, line, text);
    else if (read > this.now_ms + AHEAD_MS) this.refusals.add('ahead', line, text);
    else return read;
    return null;
  }

  private keep(line: number, at_ms: number, cells: readonly string[]): void {
    if (this.count === this.room) this.grow();
    this.before_ms = at_ms;
    if (at_ms < this.latest_ms) this.outOfOrder += 1;
    this.latest_ms = Math.max(this.latest_ms, at_ms);
    this.at[this.count] = at_ms;
    this.lines[this.count] = line;
    this.columns.forEach((column, i) => {
      this.values[i]![this.count] = this.value(line, cells, column);
    });
    this.count += 1;
  }

  private value(line: number, cells: readonly string[], column: ReadColumn): number {
    const cell = cells[column.column]!;
    const read = readNumber(cell, this.mapping.decimalMark);
    if (read === null) {
      this.emptyCells += 1;
      return Number.NaN;
    }
    const value = typeof read === 'string' ? read : this.inUnit(read, cells, column);
    if (typeof value === 'number') return value;
    this.refusals.add(value, line, cell, column.name || column.channel);
    return Number.NaN;
  }

  /** A figure of the file in the channel's unit, or why it is none. */
  private inUnit(read: number, cells: readonly string[], column: ReadColumn): number | CellReason {
    const value = 'emf' in column ? this.fromEmf(read, cells, column.emf) : inChannelUnit(read, column.unit);
    if (typeof value === 'string') return value;
    return ('emf' in column || DEGREES.includes(column.unit) ? implausible(value) : null) ?? value;
  }

  private fromEmf(emf_mV: number, cells: readonly string[], { type, junction }: Emf): number | CellReason {
    const junction_C = 'celsius' in junction ? junction.celsius : this.celsius(cells[junction.column]!, junction.unit);
    if (junction_C === null) return 'no-junction';
    return this.emfs.get(type)!.read(emf_mV, junction_C) ?? 'no-temperature';
  }

  private celsius(cell: string, unit: string): number | null {
    const read = readNumber(cell, this.mapping.decimalMark);
    return typeof read === 'number' ? inChannelUnit(read, unit) : null;
  }

  private grow(): void {
    this.room *= 2;
    this.at = grown(this.at, new Float64Array(this.room));
    this.lines = grown(this.lines, new Uint32Array(this.room));
    this.values = this.values.map((v) => grown(v, new Float32Array(this.room)));
  }

  /** By time; of rows with one time the first stays. */
  private inOrder(): Samples {
    const order = Array.from({ length: this.count }, (_, i) => i);
    if (this.outOfOrder > 0) order.sort((a, b) => this.at[a]! - this.at[b]! || a - b);
    const kept: number[] = [];
    for (const row of order) {
      const before = kept.at(-1);
      if (before === undefined || this.at[before] !== this.at[row]) kept.push(row);
      // The same row twice says nothing new, and hides nothing.
      else if (!this.values.every((v) => Object.is(v[before], v[row])))
        this.refusals.add('same-time', this.lines[row]!, new Date(this.at[row]!).toISOString());
    }
    return {
      times: Float64Array.from(kept, (i) => this.at[i]!),
      channels: this.columns.map(({ channel }, c) => ({
        channel,
        values: Float32Array.from(kept, (i) => this.values[c]![i]!),
      })),
    };
  }
}

function checkMapping(mapping: LoggerMapping): void {
  const { time } = mapping;
  const columns = readColumns(mapping);
  if (columns.length === 0) throw new FileFault('no-channels', 'No column is given to a channel.');
  const unsaid = mapping.columns.find((c) => c.unit === EMF);
  if (unsaid) throw new FileFault('no-channels', `Nobody said which thermocouple "${unsaid.name}" is.`);
  const channels = columns.map((c) => c.channel);
  const twice = channels.find((c, i) => channels.indexOf(c) !== i);
  if (twice !== undefined) throw new FileFault('twice', `Two columns are given to channel ${twice}.`);
  const asTime = columns.find((c) => c.column === time.column || c.column === time.clockColumn);
  if (asTime)
    throw new FileFault('twice', `Column "${asTime.name}" is given both to the time and to ${asTime.channel}.`);
}

function implausible(value_C: number): 'below-absolute-zero' | 'implausible' | null {
  if (value_C < ABSOLUTE_ZERO_C - 1e-9) return 'below-absolute-zero';
  return value_C < PLAUSIBLE_C[0] || value_C > PLAUSIBLE_C[1] ? 'implausible' : null;
}

function grown<T extends Float64Array<ArrayBuffer> | Float32Array<ArrayBuffer> | Uint32Array<ArrayBuffer>>(
  from: T,
  to: T,
): T {
  to.set(from);
  return to;
}
