import { act, save } from './save.ts';

/** Marks that work on an operation begins. */
export const startOperation = (operation: string): Promise<unknown> =>
  save(act('operation', { operation, mark: 'started' }));

/** The crew lead at the tablet calls an operation finished; `words` say what was missing. */
export const finishOperation = (operation: string, words?: string): Promise<unknown> =>
  save(act('operation', { operation, mark: 'finished', ...(words ? { words } : {}) }));
