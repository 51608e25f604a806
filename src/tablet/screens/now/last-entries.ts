import type { Body, Kind } from '../../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../../shared/logbook/log.ts';
import { byTime } from '../../../../shared/logbook/state/readings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';

/** Written by the tablet itself when a casting starts or a person is admitted: nobody asks who did that last. */
const SILENT: ReadonlySet<Kind | null> = new Set<Kind | null>(['genesis', 'key', null]);

/** The first plan comes with the casting; a revision is news. */
const isSilent = ({ kind, entry }: Kept): boolean =>
  SILENT.has(kind) || (kind === 'plan' && (entry.body as Body<'plan'>).parents.length === 0);

/** The latest entries of the work, newest first. */
export function lastEntries(view: View, count: number): Kept[] {
  return view.memo.get(`last/${count}`, () => {
    let last: Kept[] = [];
    for (const kept of view.log.all()) {
      const oldest = last.at(-1);
      if (isSilent(kept) || (last.length === count && oldest && byTime(kept, oldest) < 0)) continue;
      last = [...last, kept].sort((a, b) => byTime(b, a)).slice(0, count);
    }
    return last;
  });
}
