import { isDate } from '../../app/time.ts';
import type { StartDraft } from './start-draft.ts';

export type CastingErrors = Partial<Record<'name' | 'dayOne' | 'tabletName' | 'founderName' | 'pin', string>>;

/** What is missing before a casting can be started; nothing when all is there. */
export function missingOf(draft: StartDraft, hasPin: boolean): CastingErrors {
  const errors: CastingErrors = {};
  if (draft.name.trim() === '') errors.name = 'The casting needs a name.';
  if (!isDate(draft.dayOne)) errors.dayOne = 'Day 1 is a date: year, month and day.';
  if (draft.tabletName.trim() === '') errors.tabletName = 'The tablet needs a name that the crew can see on it.';
  if (draft.founderName.trim() === '') errors.founderName = 'Whoever starts the casting signs with a name.';
  if (!hasPin) errors.pin = 'A PIN is missing: it opens the key that signs.';
  return errors;
}
