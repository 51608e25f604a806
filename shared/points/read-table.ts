import { TableReader, type TableRow } from '../logger/table-reader.ts';

/** Rows of figures as they were pasted or stood in a file. */
export interface PointTable {
  readonly rows: readonly TableRow[];
  /** The names above the columns; empty where the first row holds figures already. */
  readonly heads: readonly string[];
  readonly columns: number;
  readonly decimalMark: '.' | ',';
}

const figure = /^[+\u2212-]?(\d+([.,]\d*)?|[.,]\d+)/;

/**
 * Cuts text into rows and columns by what it holds: tabs, semicolons, commas or spaces, with a decimal comma or point. A
 * mark at its beginning (BOM), empty lines and any line end are passed over.
 * @throws {FileFault} where a quotation mark is opened and never closed
 */
export function readTable(text: string): PointTable {
  const plain = text.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n');
  const lines = plain.split('\n').filter((line) => line.trim() !== '');
  const way = delimiterOf(lines);
  const ready = way === ' ' ? plain.split('\n').map(spaced).join('\n') : plain;
  const reader = new TableReader(way === ' ' ? '\t' : way);
  const rows = [...reader.push(`${ready}\n`), ...reader.end()];
  const [first] = rows;
  const headed = first !== undefined && rows.length > 1 && !first.cells.some((cell) => figure.test(cell));
  const body = headed ? rows.slice(1) : rows;
  return {
    rows: body,
    heads: headed ? first.cells : [],
    columns: Math.max(0, ...body.map((row) => row.cells.length)),
    decimalMark: decimalMarkOf(body, way),
  };
}

/** Spaces around a unit or inside a station's name do not part columns: two do, or one between figures. */
const spaced = (line: string): string =>
  line
    .trim()
    .replace(/ {2,}/g, '\t')
    .replace(/(?<=[\d.,°"]) (?=[+\u2212-]?[.,\d])/g, '\t');

type Delimiter = '\t' | ';' | ',' | ' ';

function delimiterOf(lines: readonly string[]): Delimiter {
  const every = (mark: string) => lines.length > 0 && lines.every((line) => line.includes(mark));
  if (every('\t')) return '\t';
  if (every(';')) return ';';
  const parted = lines.some((line) => spaced(line).includes('\t'));
  if (!every(',')) return parted ? ' ' : ';';
  // A comma in every line parts columns, unless it can only be a decimal mark.
  const counts = new Set(lines.map((line) => line.split(',').length));
  const decimal =
    parted || (counts.size === 1 && counts.has(2) && lines.every((l) => /^\s*[+\u2212-]?\d+,\d+(\s*\D*)$/.test(l)));
  return decimal ? ' ' : ',';
}

/** The mark that stands in more figures; a point where none has any. */
function decimalMarkOf(rows: readonly TableRow[], way: Delimiter): '.' | ',' {
  if (way === ',') return '.';
  const cells = rows.flatMap((row) => row.cells).filter((cell) => figure.test(cell));
  const count = (mark: string) => cells.filter((cell) => cell.includes(mark)).length;
  return count(',') > count('.') ? ',' : '.';
}
