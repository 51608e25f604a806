import type { Body } from '../../../../shared/logbook/kinds.ts';
import type { Hall } from '../../../../shared/logbook/state/hall.ts';

/** The numbers as they are typed: every line of `rows` that is not empty counts. */
export interface HallTexts {
  readonly site: string;
  readonly assembly: string;
  readonly words: string;
  readonly rows: readonly { readonly what: string; readonly number: string }[];
}

/** What is usually asked for first; a start, to be filled or left out. */
const USUAL = ['Fire', 'First aid', 'Electrical isolation', 'Shift lead on call'];

export const hallTexts = (hall: Hall | null): HallTexts => ({
  site: hall?.site ?? '',
  assembly: hall?.assembly ?? '',
  words: hall?.words ?? '',
  rows: hall ? hall.numbers : USUAL.map((what) => ({ what, number: '' })),
});

/** The body that the texts make, or what is still to be said. A row without a number is left out. */
export function readHall(texts: HallTexts): { body: Body<'hall'> } | { ask: string } {
  const site = texts.site.trim();
  if (site === '') return { ask: 'Give the name of the site.' };
  const numbers = texts.rows
    .map(({ what, number }) => ({ what: what.trim(), number: number.trim() }))
    .filter(({ number }) => number !== '');
  if (numbers.length === 0) return { ask: 'Give at least one number.' };
  const nameless = numbers.find(({ what }) => what === '');
  if (nameless) return { ask: `Say what ${nameless.number} is for.` };
  const assembly = texts.assembly.trim();
  const words = texts.words.trim();
  return { body: { site, numbers, ...(assembly ? { assembly } : {}), ...(words ? { words } : {}) } };
}
