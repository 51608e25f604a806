import type { LimitsAt } from '../../../shared/plan/lookup.ts';
import { formatFigure } from '../parts/format-figure.ts';

/** Two limits, or the one that there is, with their unit: `3 215.86 to 3 217.50 mm`. */
export function limitWords(
  { lower, upper }: Pick<LimitsAt, 'lower' | 'upper'>,
  { decimals, unit }: { decimals: number; unit: string },
): string {
  const said = (limit: number) => formatFigure(limit, { decimals });
  if (lower === null && upper === null) return 'no limits';
  const range = lower === null ? `at most ${said(upper!)}` : upper === null ? `at least ${said(lower)}` : null;
  return `${range ?? `${said(lower!)} to ${said(upper!)}`} ${unit}`;
}
