import type { Kept } from '../../../shared/logbook/log.ts';
import { releaseKnowledge } from '../../../shared/logbook/state/release-knowledge.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { clockTime, dayAndTime, dayNumber } from '../app/time.ts';

/** How much a release knew: `from what 2 of 3 admitted tablets had written by 14:10`; with the day where that is another. */
export function knowledgeWords(view: View, release: Kept<'release'>): string {
  const { known, admitted, by } = releaseKnowledge(view, release);
  const { dayOne, timeZone } = view.genesis;
  const sameDay = dayNumber(by, dayOne, timeZone) === dayNumber(release.entry.recordedAt, dayOne, timeZone);
  const time = sameDay ? clockTime(by, timeZone) : dayAndTime(by, dayOne, timeZone);
  return `from what ${known} of ${admitted} admitted ${admitted === 1 ? 'tablet' : 'tablets'} had written by ${time}`;
}
