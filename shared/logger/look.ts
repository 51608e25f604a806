import { FileFault } from './file-fault.ts';
import { type DateOrder, type Delimiter, delimiters, EMF, type Encoding, OWN_OFFSET } from './mapping.ts';
import { readNumber } from './read-number.ts';
import { ordersOf, tellsOffset } from './read-time.ts';
import { TableReader, type TableRow } from './table-reader.ts';

/** What the beginning of a file looks like; null is what only a person can say. */
export interface Look {
  readonly encoding: Encoding;
  readonly delimiter: Delimiter;
  readonly decimalMark: '.' | ',';
  readonly headerLine: number;
  readonly timeColumn: number;
  readonly clockColumn: number | null;
  /** Null where the dates can be read in several orders: someone must say which. */
  readonly order: DateOrder | null;
  /** The orders that all dates at the beginning can be read in. */
  readonly orders: readonly DateOrder[];
  /** Null where the times do not tell their offset: someone must say which clock the logger ran on. */
  readonly zone: string | null;
  readonly columns: readonly LookColumn[];
  /** Rows with values, from the beginning of the file. */
  readonly rows: readonly TableRow[];
}

export interface LookColumn {
  readonly column: number;
  readonly name: string;
  /** The channel of that name, if there is one. */
  readonly channel: string | null;
  /** A unit that stands in the name. */
  readonly unit: string | null;
  /** How many of the first rows hold a figure. */
  readonly figures: number;
}

const ROWS_LOOKED_AT = 400;

/**
 * Looks at the beginning of a file and says what it seems to be.
 * @param text the first lines, whole or not
 * @param channels ids of the plan's channels
 * @param parted what parts its columns, where somebody says it; left out: what gives the most figures
 * @throws {FileFault} for what is no table with times
 */
export function lookAt(text: string, encoding: Encoding, channels: readonly string[], parted?: Delimiter): Look {
  const tables = (parted ? [parted] : delimiters)
    .map((delimiter) => tableOf(text, delimiter))
    .filter((t) => t !== null);
  const best = tables.sort((a, b) => b.score - a.score)[0];
  if (!best) return refuse(text);
  const { delimiter, decimalMark, rows, firstRow, timeColumn } = best;
  const values = rows.slice(firstRow);
  const header = firstRow > 0 ? rows[firstRow - 1]! : null;
  const clockColumn = clockColumnOf(values, timeColumn);
  const times = values.map((r) => timeText(r, timeColumn, clockColumn));
  const orders = ordersOfAll(times);
  const width = Math.max(header?.cells.length ?? 0, modeOf(values.map((r) => r.cells.length)));
  return {
    encoding,
    delimiter,
    decimalMark,
    headerLine: header?.line ?? 0,
    timeColumn,
    clockColumn,
    order: orders.length === 1 ? orders[0]! : null,
    orders,
    zone: zoneOf(times, orders),
    columns: Array.from({ length: width }, (_, column) => {
      const name = header?.cells[column] ?? '';
      return {
        column,
        name,
        channel: channelNamed(name, channels),
        unit: unitNamed(name),
        figures: values.filter((r) => typeof readNumber(r.cells[column] ?? '', decimalMark) === 'number').length,
      };
    }).filter(({ column, name, figures }) => column !== timeColumn && column !== clockColumn && (name || figures > 0)),
    rows: values,
  };
}

interface Table {
  readonly delimiter: Delimiter;
  readonly decimalMark: '.' | ',';
  readonly rows: readonly TableRow[];
  readonly firstRow: number;
  readonly timeColumn: number;
  readonly score: number;
}

function tableOf(text: string, delimiter: Delimiter): Table | null {
  const reader = new TableReader(delimiter);
  const rows = reader.push(text).slice(0, ROWS_LOOKED_AT);
  const all = rows.length > 0 ? rows : reader.end();
  const firstRow = all.findIndex((r) => r.cells.length > 1 && r.cells.some(looksLikeTime));
  if (firstRow < 0) return null;
  const timeColumn = all[firstRow]!.cells.findIndex(looksLikeTime);
  const cells = all.slice(firstRow).flatMap((r) => r.cells.filter((_, i) => i !== timeColumn));
  const count = (mark: '.' | ',') => cells.filter((c) => typeof readNumber(c, mark) === 'number').length;
  const decimalMark = count(',') > count('.') ? ',' : '.';
  const times = all.slice(firstRow).filter((r) => looksLikeTime(r.cells[timeColumn] ?? '')).length;
  return { delimiter, decimalMark, rows: all, firstRow, timeColumn, score: count(decimalMark) + times };
}

const looksLikeTime = (cell: string): boolean => ordersOf(cell).length > 0;

const CLOCK_ALONE = /^\d{1,2}:\d{2}(:\d{2}([.,]\d+)?)?(\s*[ap]\.?m\.?)?$/i;

/** The column with the time of day, where dates stand alone. */
function clockColumnOf(rows: readonly TableRow[], timeColumn: number): number | null {
  const [first] = rows;
  if (!first || first.cells[timeColumn]!.includes(':') || /^\d+(\.\d+)?$/.test(first.cells[timeColumn]!)) return null;
  const found = first.cells.findIndex((c) => CLOCK_ALONE.test(c));
  return found < 0 ? null : found;
}

const timeText = (row: TableRow, timeColumn: number, clockColumn: number | null): string =>
  clockColumn === null ? (row.cells[timeColumn] ?? '') : `${row.cells[timeColumn]} ${row.cells[clockColumn]}`;

/** Orders that every readable date allows; where they contradict each other, those that most of them allow. */
function ordersOfAll(times: readonly string[]): DateOrder[] {
  const each = times.map(ordersOf).filter((orders) => orders.length > 0);
  const counts = new Map<DateOrder, number>();
  for (const orders of each) for (const order of orders) counts.set(order, (counts.get(order) ?? 0) + 1);
  const most = Math.max(...counts.values());
  return [...counts].filter(([, count]) => count === most).map(([order]) => order);
}

function zoneOf(times: readonly string[], orders: readonly DateOrder[]): string | null {
  if (orders.every((o) => o === 'unix-s' || o === 'unix-ms')) return 'UTC';
  const known = times.filter((t) => ordersOf(t).length > 0);
  return known.length > 0 && known.every(tellsOffset) ? OWN_OFFSET : null;
}

const bare = (name: string): string => name.toUpperCase().replace(/[^A-Z0-9]/g, '');

function channelNamed(name: string, channels: readonly string[]): string | null {
  const plain = bare(
    name
      .replace(/[[(].*$/, '')
      .replace(/°?\s*[CFK]$/, '')
      .replace(/\s+mV$/, ''),
  );
  return plain === '' ? null : (channels.find((c) => bare(c) === plain || bare(c) === bare(name)) ?? null);
}

function unitNamed(name: string): string | null {
  const unit = /(?:[[(]\s*|\s|°)(°?\s?[CF]|degC|degF|K|mV)\s*[\])]?$/.exec(name)?.[1];
  if (unit === undefined) return null;
  return unit === 'K' || unit === EMF ? unit : unit.endsWith('F') ? '°F' : '°C';
}

function modeOf(counts: readonly number[]): number {
  const seen = new Map<number, number>();
  for (const c of counts) seen.set(c, (seen.get(c) ?? 0) + 1);
  return [...seen].sort((a, b) => b[1] - a[1])[0]?.[0] ?? 0;
}

/** No column of any delimiter holds times: says what is nearest to the fault. */
function refuse(text: string): never {
  const lines = text.split(/\r?\n|\r/).filter((l) => l.trim() !== '');
  if (lines.length === 0) throw new FileFault('empty', 'The file holds nothing but blanks.');
  const parted = delimiters.some((d) => lines.some((l) => l.includes(d)));
  if (!parted)
    throw new FileFault('one-column', 'The file has one column only: no comma, semicolon, tab or bar parts its rows.');
  if (lines.length < 2) throw new FileFault('no-rows', 'The file has names of columns at most, and no row of values.');
  throw new FileFault(
    'no-time',
    `No column holds times, or none that can be read as one. The second line is "${lines[1]!.slice(0, 60)}".`,
  );
}
