import type { Judgement } from '../../../../shared/logbook/state/judge-reading.ts';
import { formatFigure } from '../../parts/format-figure.ts';

type Judged = Pick<Judgement, 'value' | 'limits' | 'guard' | 'verdict'>;

/** The limit that matters: the one that is passed, or the nearer one. Room is negative past a limit. */
export function nearestLimit({ value, limits }: Pick<Judged, 'value' | 'limits'>): {
  readonly side: 'low' | 'high';
  readonly room: number;
} | null {
  const sides = [
    ...(limits.lower === null ? [] : [{ side: 'low' as const, room: value - limits.lower }]),
    ...(limits.upper === null ? [] : [{ side: 'high' as const, room: limits.upper - value }]),
  ];
  return sides.sort((a, b) => a.room - b.room)[0] ?? null;
}

/**
 * What the verdict means, in a sentence that a tired person can act on.
 * @param finest decimals of room and guard, where there is one
 */
export function verdictSentence(judged: Judged, decimals: number, finest = Math.max(2, decimals)): string {
  const near = nearestLimit(judged);
  if (!near || judged.verdict === null) return 'No limits: it is recorded as it is.';
  // The room to a limit is compared with the guard: a coarse figure would hide which is more.
  const figure = (v: number) => formatFigure(v, { decimals: judged.guard > 0 ? finest : decimals });
  const guard = judged.guard > 0 ? `, guard is ${figure(judged.guard)}` : '';
  const name = near.side === 'low' ? 'lower' : 'upper';
  if (judged.verdict === 'outside')
    return `Past the ${name} limit by ${figure(-near.room)}${guard}. Kept, and raised as a finding.`;
  const place = near.room >= 0 ? `Inside the limit by ${figure(near.room)}` : `Past the limit by ${figure(-near.room)}`;
  if (judged.verdict === 'within') return `${place}${guard}.`;
  const both = near.room >= judged.guard ? ' Both limits are near for this uncertainty.' : '';
  return `${place}${guard}.${both} A better or repeated reading may prove it.`;
}
