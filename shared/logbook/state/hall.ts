import type { Body } from '../kinds.ts';
import { latest } from './latest.ts';
import { byTime } from './readings.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

/** The hall's own emergency numbers as they stand. */
export interface Hall {
  readonly site: string;
  readonly numbers: Body<'hall'>['numbers'];
  readonly assembly: string | null;
  readonly words: string | null;
  /** When the last of it was written, ISO 8601, and by whom. */
  readonly writtenAt: string;
  readonly by: string;
  /** Keepers on two tablets wrote without knowing of each other: everything that they entered is shown. */
  readonly disagree: boolean;
}

const both = (texts: readonly (string | undefined)[]): string | null =>
  [...new Set(texts.filter((t) => t !== undefined))].join('; ') || null;

/** The hall's numbers; null while no keeper has entered them. */
export function hallOf(view: View): Hall | null {
  return view.memo.get('hall', () => {
    const lines = latest(view, live(view, 'hall', 'hall')).sort(byTime);
    const last = lines.at(-1);
    if (!last) return null;
    const numbers = lines.flatMap(({ body }) => body.numbers);
    return {
      site: both(lines.map(({ body }) => body.site))!,
      numbers: numbers.filter((n, i) => numbers.findIndex((m) => m.what === n.what && m.number === n.number) === i),
      assembly: both(lines.map(({ body }) => body.assembly)),
      words: both(lines.map(({ body }) => body.words)),
      writtenAt: last.entry.recordedAt,
      by: last.entry.by,
      disagree: lines.length > 1,
    };
  });
}
