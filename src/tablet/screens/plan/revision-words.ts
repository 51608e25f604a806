import type { Revision } from '../../../../shared/logbook/state/plans.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../../app/time.ts';

/** Who signed a revision, where and when. */
export function signedWords(view: View, { entries, parents }: Revision): string {
  const [first] = [...entries].sort((a, b) => Date.parse(a.entry.recordedAt) - Date.parse(b.entry.recordedAt));
  if (!first) return '';
  const { by, device, recordedAt } = first.entry;
  const who = view.standing.person(by)?.name ?? 'somebody not admitted';
  const tablet = view.standing.tablets().find((t) => t.device === device)?.name ?? 'a tablet not admitted';
  const when = dayAndTime(recordedAt, view.genesis.dayOne, view.genesis.timeZone);
  return parents.length === 0 ? `with the casting, by ${who}, ${when}` : `signed by ${who} on ${tablet}, ${when}`;
}

export const reasonOf = ({ entries }: Revision): string => entries.find((e) => e.body.reason)?.body.reason ?? '';

/** What a revision is now: in force, was in force, waits, or joined into another. */
export function standingWords(view: View, revision: Revision): string {
  if (revision.hash === view.planHash) return 'in force';
  const next = view.line[view.line.findIndex((r) => r.hash === revision.hash) + 1];
  if (view.line.includes(revision)) return `was in force until revision ${next!.plan.revision}`;
  if (view.heads.includes(revision)) return 'not in force: it waits to be joined';
  return 'joined into a later one';
}
