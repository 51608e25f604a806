import { act, save } from './save.ts';

/** A note on an operation. */
export const noteOnOperation = (operation: string, text: string): Promise<unknown> =>
  save(act('note', { operation, text }));

/** A note on a finding. */
export const noteOnFinding = (finding: string, text: string): Promise<unknown> =>
  save(act('note', { about: finding, text }));
