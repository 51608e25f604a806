import { act, save } from './save.ts';

/** A note on nothing in particular: what somebody saw, heard or smelt. */
export const note = (text: string): Promise<unknown> => save(act('note', { text }));

/** A note on an operation. */
export const noteOnOperation = (operation: string, text: string): Promise<unknown> =>
  save(act('note', { operation, text }));

/** A note on a finding. */
export const noteOnFinding = (finding: string, text: string): Promise<unknown> =>
  save(act('note', { about: finding, text }));
