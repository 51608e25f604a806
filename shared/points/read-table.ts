import { TableReader, type TableRow } from '../logger/table-reader.ts';

/** What a comma in pasted figures is: a decimal mark, or what parts two columns. */
export type Comma = 'decimal' | 'parts';

/** Rows of figures as they were pasted or stood in a file. */
export interface PointTable {
  readonly rows: readonly TableRow[];
  readonly columns: number;
  /** Whether the text can be read with either comma: then somebody must say which it is. */
  readonly eitherComma: boolean;
  /** True while nobody has said it: then no row can be taken. */
  readonly commaOpen: boolean;
}

const figure = /^[+\u2212-]?(\d+([.,]\d*)?|[.,]\d+)/;

/**
 * Cuts text into rows and columns by what it holds: tabs, semicolons, commas or spaces, with a decimal comma or point. A
 * mark at its beginning (BOM), empty lines and any line end are passed over. Where the text can be read with either comma,
 * `comma` decides.
 * @throws {FileFault} where a quotation mark is opened and never closed
 */
export function readTable(text: string, comma: Comma | null = null): PointTable {
  const plain = text.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n');
  const lines = plain.split('\n').filter((line) => line.trim() !== '');
  const eitherComma = canBeEither(lines);
  const way = eitherComma && comma === 'parts' ? ',' : delimiterOf(lines);
  const ready = way === ' ' ? plain.split('\n').map(spaced).join('\n') : plain;
  const reader = new TableReader(way === ' ' ? '\t' : way);
  const rows = [...reader.push(`${ready}\n`), ...reader.end()];
  const [first] = rows;
  const headed = first !== undefined && rows.length > 1 && !first.cells.some((cell) => figure.test(cell));
  const body = headed ? rows.slice(1) : rows;
  return {
    rows: body,
    columns: Math.max(0, ...body.map((row) => row.cells.length)),
    eitherComma,
    commaOpen: eitherComma && comma === null,
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
  if (inEvery(lines, '\t')) return '\t';
  if (inEvery(lines, ';')) return ';';
  if (partedBySpaces(lines)) return ' ';
  // A comma in every line parts columns, unless it can be a decimal mark too.
  return inEvery(lines, ',') && !canBeEither(lines) ? ',' : ';';
}

const inEvery = (lines: readonly string[], mark: string): boolean =>
  lines.length > 0 && lines.every((line) => line.includes(mark));

const partedBySpaces = (lines: readonly string[]): boolean => lines.some((line) => spaced(line).includes('\t'));

/** Whole figure, comma, whole figure: `15,252` is one figure, or station 15 and its value 252. */
const oneComma = /^\s*[+\u2212-]?\d+,\d+[^\d,]*$/;

/** Whether nothing in the lines tells what their commas are: each is one between two whole figures. */
function canBeEither(lines: readonly string[]): boolean {
  const withComma = lines.filter((line) => line.includes(','));
  return (
    withComma.length > 0 &&
    !inEvery(lines, ';') &&
    !partedBySpaces(lines) &&
    withComma.every((line) => oneComma.test(line))
  );
}
