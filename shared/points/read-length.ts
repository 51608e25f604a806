/** Units in which a file may give a length, in mm (SI; the international inch of 1959, NIST SP 811, B.8). */
export const MM: Readonly<Record<string, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 };

const SPELLINGS: Readonly<Record<string, string>> = { '"': 'in', '″': 'in', inch: 'in', inches: 'in' };

/** Why a cell is no figure that can be taken. */
export type CellFault = 'empty' | 'not-a-number' | 'two-marks' | 'unit';

export interface CellFigure {
  /** As it stood, without its unit. */
  readonly text: string;
  readonly value: number;
  /** The unit behind it; null where none stood. */
  readonly unit: string | null;
}

/** A figure with or without its unit behind it, `1 608.37 mm`, `63,321"`. @returns the figure, or why it is none */
export function readCell(cell: string): CellFigure | CellFault {
  const text = cell.replace(/[\u00a0\u2009\u202f]/g, ' ').trim();
  if (text === '' || /^[-–—]+$/.test(text)) return 'empty';
  const parts = /^([+\u2212-]?[\d.,\s]*\d[.,]?)\s*([^\d\s.,]*)$/.exec(text);
  if (!parts) return 'not-a-number';
  const [, figure = '', behind = ''] = parts;
  const bare = figure.replace(/\s/g, '').replace('\u2212', '-');
  if ((bare.match(/[.,]/g) ?? []).length > 1) return 'two-marks';
  const value = Number(bare.replace(',', '.'));
  if (!Number.isFinite(value)) return 'not-a-number';
  return { text: bare, value, unit: behind === '' ? null : (SPELLINGS[behind.toLowerCase()] ?? behind) };
}
