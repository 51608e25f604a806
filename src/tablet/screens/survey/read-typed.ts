import type { Typed } from '../../../../shared/logbook/kinds.ts';
import type { LimitsAt } from '../../../../shared/plan/lookup.ts';
import type { Characteristic } from '../../../../shared/plan/schema.ts';
import { ABSOLUTE_ZERO_C, toPlanUnit } from '../../app/units.ts';
import { formatFigure } from '../../parts/format-figure.ts';
import { parseFigure } from '../../parts/parse-figure.ts';

/** Text that a person typed, read as a measurement; or why it cannot be one. The text itself stays where it was. */
export type Read = { readonly typed: Typed } | { readonly fault: string };

const MOST_CHARACTERS = 100;
/** Units of things that cannot be less than nothing where the plan wants something of them. */
const AMOUNTS: ReadonlySet<string> = new Set(['mm', 'kg', 'kN']);

const quoted = (text: string): string => `“${text.length > 24 ? `${text.slice(0, 24)}…` : text}”`;

/** Reads one figure, typed in `unit`, into `planUnit`. */
export function readFigure(text: string, unit: string, planUnit: string): Read {
  if (text.trim() === '') return { fault: 'Nothing is typed yet.' };
  if (text.length > MOST_CHARACTERS) return { fault: `${quoted(text)} is too long to be a measurement.` };
  const figure = parseFigure(text);
  if (figure === null) return { fault: faultOf(text) };
  if (!Number.isFinite(figure)) return { fault: `${quoted(text)} is too large to be a measurement.` };
  const value = toPlanUnit(figure, unit, planUnit);
  if (planUnit === '°C' && value < ABSOLUTE_ZERO_C)
    return { fault: `${quoted(text)} ${unit} is below absolute zero (−273.15 °C).` };
  return { typed: { text, unit, value } };
}

function faultOf(text: string): string {
  if (/^[+\u2212-]?[\d.,\s]+e[+-]?\d+$/i.test(text))
    return `${quoted(text)} is not a plain figure. Write it out in digits.`;
  if ((text.match(/[.,]/g) ?? []).length > 1 && /^[\d.,\s+\u2212-]+$/.test(text))
    return `${quoted(text)} has two decimal marks. Type one.`;
  return `${quoted(text)} is not a figure. Type digits and one decimal mark.`;
}

/** Whether a characteristic is of a kind that cannot be negative. */
export function isUnsigned(characteristic: Characteristic, limits: LimitsAt): boolean {
  if (characteristic.kind === 'count' || characteristic.at20) return true;
  return AMOUNTS.has(characteristic.unit) && ((limits.nominal ?? 0) > 0 || (limits.lower ?? 0) > 0);
}

/** Reads the figure of a characteristic. Nothing is refused for being outside its limits. */
export function readReading(text: string, unit: string, characteristic: Characteristic, limits: LimitsAt): Read {
  const read = readFigure(text, unit, characteristic.unit);
  if ('fault' in read) return read;
  const { value } = read.typed;
  if (characteristic.kind === 'count' && !Number.isInteger(value)) return { fault: 'A count is a whole number.' };
  if (value < 0 && isUnsigned(characteristic, limits))
    return {
      fault: `${formatFigure(value, { decimals: characteristic.decimals })} cannot be: this is never negative.`,
    };
  if (value === 0 && characteristic.at20) return { fault: 'A length of nothing cannot be.' };
  return read;
}

/**
 * Whether a figure that is still being typed could be all of it: the verdict waits until then, so that it does not
 * jump with every digit. On Enter every figure is judged.
 * @param read the figure in the unit of the limits
 */
export function couldBeComplete(text: string, read: number, limits: LimitsAt, decimals: number): boolean {
  const sizes = [limits.nominal, limits.lower, limits.upper].flatMap((limit) =>
    limit === null ? [] : [Math.abs(limit)],
  );
  const least = Math.min(...sizes);
  if (sizes.length > 1 && least >= 10) return Math.abs(read) > least / 2 && Math.abs(read) < Math.max(...sizes) * 2;
  const small = sizes.length > 0 && Math.max(...sizes) < 10;
  return decimals > 0 ? /[.,]\d/.test(text) : small || /\d.*\d/.test(text);
}
