import type { Kept } from '../../../shared/logbook/log.ts';
import { openView } from '../app/tablet.ts';
import { act, save } from './save.ts';
import { type Filled, type Seen, sheetEntries } from './sheet-entries.ts';

/** Saves what was filled in this go; `current` are the entries of this sheet that stand. */
export async function saveAnswers(
  operation: string,
  part: string | undefined,
  current: readonly Kept<'sheet'>[],
  filled: readonly Filled[],
  seen: Seen,
): Promise<void> {
  const entries = sheetEntries({ operation, part, plan: openView().planHash, current }, filled, seen);
  await save(...entries.map(({ body, observedAt }) => act('sheet', body, observedAt ? { observedAt } : {})));
}
