import type { Typed } from '../../../shared/logbook/kinds.ts';
import { parseFigure } from '../parts/parse-figure.ts';
import { ABSOLUTE_ZERO_C, toPlanUnit } from './units.ts';

/** Text that a person typed, read as a measurement; or why it cannot be one. The text itself stays where it was. */
export type Read = { readonly typed: Typed } | { readonly fault: string };

const MOST_CHARACTERS = 100;

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
