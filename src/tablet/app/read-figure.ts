import type { Typed } from '../../../shared/logbook/kinds.ts';
import { parseFigure } from '../parts/parse-figure.ts';
import { ABSOLUTE_ZERO_C, toPlanUnit } from './units.ts';

/** Text that a person typed, read as a measurement; or why it cannot be one. The text itself stays where it was. */
export type Read = { readonly typed: Typed } | { readonly fault: string };

const MOST_CHARACTERS = 100;

const quoted = (text: string): string => `“${text.length > 24 ? `${text.slice(0, 24)}…` : text}”`;

/** What gauges put behind a figure, and the unit that it stands for. */
const BEHIND: Readonly<Record<string, string>> = { '"': 'in', '″': 'in', C: '°C', F: '°F' };
/** The units besides its own in which a figure of the plan's may be typed. */
const OTHERS: Readonly<Record<string, string>> = { mm: 'in', '°C': '°F' };

/** Units that a gauge might send: another of them is told apart from a slip of the hand. */
const KNOWN: ReadonlySet<string> = new Set([
  'mm',
  'cm',
  'm',
  'in',
  'µm',
  'g',
  'kg',
  'N',
  'kN',
  '°C',
  '°F',
  'K',
  'V',
  'mV',
]);

/** A figure and the unit behind it: a gauge sends both. Null where no unit stands there. */
function withUnit(text: string): { figure: string; unit: string } | null {
  const [, figure, behind] = /^(.*\d[.,]?)\s*([^\d\s.,][^\d]*)$/.exec(text.trim()) ?? [];
  if (figure === undefined || behind === undefined || parseFigure(figure) === null) return null;
  return { figure, unit: BEHIND[behind] ?? behind };
}

/** Reads one figure, typed in `unit` unless its own stands behind it, into `planUnit`. */
export function readFigure(text: string, unit: string, planUnit: string): Read {
  const own = text.length > MOST_CHARACTERS ? null : withUnit(text);
  if (own && (own.unit === planUnit || own.unit === OTHERS[planUnit]))
    return readFigure(own.figure, own.unit, planUnit);
  if (own && KNOWN.has(own.unit))
    return { fault: `${quoted(text)} is not in ${planUnit || 'the unit'}, in which this is read.` };
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
