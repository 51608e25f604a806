import type { Columns, PointMapping } from '../../../../../shared/points/map-points.ts';
import type { Comma } from '../../../../../shared/points/read-table.ts';
import type { JudgedRows } from './judge-rows.ts';

/** What was pasted and not saved yet, with how it is to be read. */
export interface Pasted {
  readonly text: string;
  /** Where the text came from: a file's name. */
  readonly from: string;
  /** Null while the columns tell by themselves. */
  readonly columns: Columns | null;
  readonly unit: string | null;
  readonly axis: PointMapping['axis'];
  /** Null while nobody has said it: asked only where the text can be read with either. */
  readonly comma: Comma | null;
}

export const NOTHING_PASTED: Pasted = {
  text: '',
  from: 'pasted',
  columns: null,
  unit: null,
  axis: 'fit',
  comma: null,
};

/**
 * What stays of what was pasted once its taken rows are saved: each row that was not taken, on its own line, since an
 * entry says of which line it came. Null where all were taken.
 */
export function stays(pasted: Pasted, mapping: PointMapping, saved: JudgedRows): Pasted | null {
  const { left } = saved;
  if (left.length === 0) return null;
  const read = { ...pasted, columns: mapping.columns, unit: mapping.unit };
  // The axis is found by all points of a height: fewer of them would put it elsewhere.
  if (mapping.columns === 'xyz') return read;
  const rows = new Map(left.map(({ line, row }) => [line, lineOf(row)]));
  const lines = Array.from({ length: Math.max(...rows.keys()) }, (_, i) => rows.get(i + 1) ?? '');
  // Above a row of words alone, so that it is not itself read as the heads.
  const text = [lines[0] || HEADS, ...lines.slice(1)].join('\n');
  return { ...read, text, columns: mapping.columns === 'value' ? 'station-value' : mapping.columns };
}

const HEADS = 'Rows not taken\t';

/** Cells parted by at least one tab: where it stands in every line, no comma or space parts anything. */
const lineOf = (cells: readonly string[]): string => (cells.length > 1 ? cells : [...cells, '']).map(quoted).join('\t');

/** With quotation marks about a cell that holds one (RFC 4180). */
const quoted = (cell: string): string => {
  const flat = cell.replace(/\s+/g, ' ');
  return flat.includes('"') ? `"${flat.replaceAll('"', '""')}"` : flat;
};

const countWords = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

export const readingsWords = (count: number): string => countWords(count, 'reading');

/** What is said once the rows are saved. */
export function savedWords({ taken, left }: JudgedRows, name: string): string {
  const saved = `Saved: ${readingsWords(taken.length)} of ${name}`;
  return left.length === 0 ? saved : `${saved}; ${countWords(left.length, 'row')} not taken, kept in “Paste or file”`;
}
