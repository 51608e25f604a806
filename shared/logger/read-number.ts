/** Why a cell is no value. */
export type NumberFault = 'not-a-number' | 'other-decimal-mark' | 'not-finite';

const point = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
const comma = /^[+-]?(\d+,?\d*|,\d+)(e[+-]?\d+)?$/i;
/** What loggers write for an open circuit or an overflow. */
const notFinite = /^([+-]?(nan|inf(inity)?|1\.#\w+)|#.*|ovl|ovr|over(flow|range)?|under(flow|range)?|open|error|err)$/i;
const unitBehind = /\s*(°\s?[CF]|degC|degF|[CFK]|mV|kW|rpm)$/;

/**
 * A figure of a file; null for a cell that is empty or holds only dashes.
 * @returns the value, or why there is none
 */
export function readNumber(cell: string, decimalMark: '.' | ','): number | null | NumberFault {
  if (cell === '' || /^-+$/.test(cell)) return null;
  const text = cell.replace(unitBehind, '').replace('−', '-');
  const [wanted, other] = decimalMark === '.' ? [point, comma] : [comma, point];
  if (wanted.test(text)) {
    const value = Number(text.replace(',', '.'));
    return Number.isFinite(value) ? value : 'not-finite';
  }
  if (notFinite.test(text)) return 'not-finite';
  return other.test(text) ? 'other-decimal-mark' : 'not-a-number';
}
