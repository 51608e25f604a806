import type { Body } from '../../../shared/logbook/kinds.ts';
import { randomId } from '../storage/keys.ts';
import { act, type Circumstances, save } from './save.ts';

/**
 * Keeps a line of an arrangement: a new one, or where it has its name already, one that takes the place of the line before.
 * @returns the arrangement's name.
 */
export async function arrange({
  arrangement,
  ...line
}: Omit<Body<'arrangement'>, 'arrangement'> & { arrangement?: string }): Promise<string> {
  const id = arrangement ?? randomId();
  await save(act('arrangement', { arrangement: id, ...line }));
  return id;
}

/** All is as planned again. */
export const endArrangement = (body: Body<'arrangement-end'>, when: Circumstances = {}): Promise<unknown> =>
  save(act('arrangement-end', body, when));
