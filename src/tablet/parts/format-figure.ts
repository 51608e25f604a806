import { signal } from '@preact/signals';

/** A narrow space that does not break: it parts the thousands (ISO 80000-1, 7.3.2). */
const THIN_SPACE = '\u202f';
const MINUS = '\u2212';

/** The mark of every figure that is drawn without one of its own. */
const drawnMark = signal<'.' | ','>('.');

/** Sets the decimal mark of all figures that are drawn from now on; those that stand are drawn again. */
export function showDecimalMark(mark: '.' | ','): void {
  drawnMark.value = mark;
}

/** How a figure is written. */
export type FigureForm = {
  /** Digits after the decimal mark. */
  decimals: number;
  /** Deviations always carry a sign. */
  signed?: boolean | undefined;
  /** ISO 80000-1 allows the point and the comma; left out, it is the tablet's. */
  decimalMark?: '.' | ',' | undefined;
};

/** Parts the digits before the decimal mark in groups of three; four digits stand together only after the mark. */
export function groupThousands(digits: string): string {
  return digits.replace(/\B(?=(\d{3})+$)/g, THIN_SPACE);
}

/**
 * Writes a plain decimal text ("-3218.50") as it stands on the sheet ("−3 218.50"). No digit is lost or added.
 * Text that is not a plain decimal comes back as it was.
 */
export function formatDecimalText(text: string, decimalMark: '.' | ',' = drawnMark.value): string {
  const parts = /^([+-]?)(\d+)(?:\.(\d+))?$/.exec(text);
  if (!parts) return text;
  const [, sign = '', whole = '', fraction] = parts;
  return `${sign === '-' ? MINUS : sign}${groupThousands(whole)}${fraction ? decimalMark + fraction : ''}`;
}

/**
 * Writes a number with a true minus and thin spaces. A figure that rounds to nothing never says minus.
 * NaN and infinities have no figure: they are written as "–", as is a value not measured.
 */
export function formatFigure(value: number | null, { decimals, signed, decimalMark }: FigureForm): string {
  if (value === null || !Number.isFinite(value)) return '–';
  const fixed = value.toFixed(decimals);
  const plain = Number(fixed) === 0 ? fixed.replace('-', '') : fixed;
  return formatDecimalText(signed && !plain.startsWith('-') ? `+${plain}` : plain, decimalMark);
}
