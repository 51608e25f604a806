import type { Kept } from '../../../shared/logbook/log.ts';
import {
  knowledgeNow,
  type ReleaseKnowledge,
  releaseKnowledge,
} from '../../../shared/logbook/state/release-knowledge.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { clockTime, dayAndTime, dayNumber, isoWithOffset } from '../app/time.ts';

/** How much a release knew: `from what 2 of 3 admitted tablets had written by 14:10`; with the day where that is another. */
export const knowledgeWords = (view: View, release: Kept<'release'>): string =>
  knownWords(view, releaseKnowledge(view, release), release.entry.recordedAt);

/** The same of a signature that this tablet would make now. */
export const knowledgeWordsNow = (view: View, device: string, now: Date): string =>
  knownWords(view, knowledgeNow(view, device, isoWithOffset(now)), isoWithOffset(now));

function knownWords(view: View, { known, admitted, by }: ReleaseKnowledge, at: string): string {
  const { dayOne, timeZone } = view.genesis;
  const sameDay = dayNumber(by, dayOne, timeZone) === dayNumber(at, dayOne, timeZone);
  const time = sameDay ? clockTime(by, timeZone) : dayAndTime(by, dayOne, timeZone);
  return `from what ${known} of ${admitted} admitted ${admitted === 1 ? 'tablet' : 'tablets'} had written by ${time}`;
}
