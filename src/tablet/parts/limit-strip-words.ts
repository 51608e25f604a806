import { formatFigure } from './format-figure.ts';
import type { StripInput } from './limit-strip-scale.ts';
import { type Verdict, verdictWord } from './verdict.ts';

type Words = StripInput & { verdict: Verdict | null; decimals: number; unit: string };

/** The limit that the value lies closer to, with its side. */
function nearestLimit({ value, lower, upper }: StripInput): { side: 'lower' | 'upper'; limit: number } | null {
  if (upper === null) return lower === null ? null : { side: 'lower', limit: lower };
  if (lower === null || value === null) return { side: 'upper', limit: upper };
  return value - lower < upper - value ? { side: 'lower', limit: lower } : { side: 'upper', limit: upper };
}

/** What a screen reader says for a strip: "1.28 above nominal, upper limit 1.50, guard 0.34: not proven". */
export function stripWords(input: Words): string {
  const { value, nominal, guard, decimals, unit, verdict } = input;
  const figure = (v: number, signed = false) => formatFigure(v, { decimals, signed });
  if (value === null) return 'not measured';
  const near = nearestLimit(input);
  const limits = near ? limitWords(near, nominal, figure) : 'no limits';
  const guarded = guard > 0 ? `, guard ${figure(guard)}` : '';
  const judged = verdict ? `: ${verdictWord(verdict)}` : '';
  return `${valueWords(value, nominal, unit, figure)}, ${limits}${guarded}${judged}`;
}

type Write = (value: number, signed?: boolean) => string;

function valueWords(value: number, nominal: number | null, unit: string, figure: Write): string {
  if (nominal === null) return `${figure(value)} ${unit}`.trim();
  const deviation = value - nominal;
  if (Number(deviation.toFixed(9)) === 0) return 'at nominal';
  return `${figure(Math.abs(deviation))} ${deviation > 0 ? 'above' : 'below'} nominal`;
}

/** A limit on its own side of nominal is said without a sign; one beyond nominal needs it. */
function limitWords(near: { side: string; limit: number }, nominal: number | null, figure: Write): string {
  if (nominal === null) return `${near.side} limit ${figure(near.limit)}`;
  const distance = near.limit - nominal;
  const ownSide = near.side === 'upper' ? distance >= 0 : distance <= 0;
  return `${near.side} limit ${ownSide ? figure(Math.abs(distance)) : figure(distance, true)}`;
}
