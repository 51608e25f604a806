import type { Body } from '../../../shared/logbook/kinds.ts';
import { act, save } from './save.ts';

/** An instrument was found bad. */
export const recallInstrument = (recall: Body<'recall'>): Promise<unknown> => save(act('recall', recall));

/** Adds a line to the instrument register. A later line of the same number takes the place of the one before. */
export async function registerInstrument(line: Body<'instrument'>): Promise<void> {
  await save(act('instrument', line));
}
