import papa from 'papaparse';
import { FileFault } from './file-fault.ts';
import type { Delimiter } from './mapping.ts';

/** One row of a file, with the line on which it begins, counted from 1. */
export interface TableRow {
  readonly line: number;
  readonly cells: readonly string[];
}

/** So much text without the end of a row means that a quotation mark was never closed. */
const LONGEST_ROW = 200_000;

/**
 * Cuts delimited text into rows (RFC 4180, with any delimiter) as it comes in, piece by piece. Empty lines are counted
 * and left out.
 */
export class TableReader {
  private readonly delimiter: Delimiter;
  private rest = '';
  private line = 1;
  private newline: '\n' | '\r' | null = null;

  constructor(delimiter: Delimiter) {
    this.delimiter = delimiter;
  }

  /** @throws {FileFault} where a quotation mark is opened and never closed */
  push(text: string): TableRow[] {
    this.rest += text;
    // Old loggers end a line with a carriage return alone.
    this.newline ??= this.rest.includes('\n') ? '\n' : this.rest.includes('\r') ? '\r' : null;
    const rows = this.cut(true);
    if (this.rest.length > LONGEST_ROW) throw this.open();
    return rows;
  }

  /** The last row, which need not end with a line break. */
  end(): TableRow[] {
    const marks = this.rest.split('"').length - 1;
    if (marks % 2 === 1) throw this.open();
    return this.cut(false);
  }

  private open(): FileFault {
    return new FileFault('quote-open', `A quotation mark on line ${this.line} is opened and never closed.`);
  }

  private cut(ignoreLastRow: boolean): TableRow[] {
    if (this.rest === '') return [];
    const parser = new papa.Parser({ delimiter: this.delimiter, newline: this.newline ?? '\n' });
    const { data, meta } = parser.parse(this.rest, 0, ignoreLastRow);
    this.rest = ignoreLastRow ? this.rest.slice(meta.cursor) : '';
    const rows: TableRow[] = [];
    for (const cells of data) {
      const { line } = this;
      this.line += 1 + breaksIn(cells, this.newline ?? '\n');
      const trimmed = cells.map((c) => c.trim());
      if (trimmed.some((c) => c !== '')) rows.push({ line, cells: trimmed });
    }
    return rows;
  }
}

/** Line breaks inside quoted cells. */
function breaksIn(cells: readonly string[], newline: string): number {
  let breaks = 0;
  for (const cell of cells) if (cell.includes(newline)) breaks += cell.split(newline).length - 1;
  return breaks;
}
