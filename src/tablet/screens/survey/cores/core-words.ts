import type { CoreState } from '../../../../../shared/logbook/state/core-marks.ts';
import { type CoreMark, coreMarkWords } from '../../../parts/core-map/core-mark.ts';

/** A core's state in words: `outside, 11 of 12 measured`. */
export function stateWords({ mark, done, asked, outside, notProven }: CoreState): string {
  const bad = [
    ...(outside > 1 ? [`${outside} outside`] : outside === 1 ? ['outside'] : []),
    ...(notProven > 0 ? [notProven === 1 ? 'not proven' : `${notProven} not proven`] : []),
  ];
  const how = bad.length > 0 ? bad.join(', ') : coreMarkWords[mark];
  return asked > 1 && done < asked && done > 0 ? `${how}, ${done} of ${asked} measured` : how;
}

export type MarkCounts = { readonly [M in CoreMark]: number };

export function countMarks(states: Iterable<CoreState>): MarkCounts {
  const counts = { outside: 0, 'not-proven': 0, missing: 0, begun: 0, within: 0, 'not-asked': 0 };
  for (const { mark } of states) counts[mark] += 1;
  return counts;
}

/** What is looked for on the map: everything, what is still to be measured, or what wants a hand. */
export type Looked = 'all' | 'to-measure' | 'wants-hand';

const MARKS_OF: { readonly [L in Exclude<Looked, 'all'>]: readonly CoreMark[] } = {
  'to-measure': ['missing', 'begun'],
  'wants-hand': ['outside', 'not-proven'],
};

export const isLooked = (looked: Looked, mark: CoreMark): boolean =>
  looked === 'all' || MARKS_OF[looked].includes(mark);
