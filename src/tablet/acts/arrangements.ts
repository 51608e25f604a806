import type { Body } from '../../../shared/logbook/kinds.ts';
import { randomId } from '../storage/keys.ts';
import { act, save } from './save.ts';

type Arranged = Omit<Body<'arrangement'>, 'arrangement'>;

/** Something is arranged for a time. @returns its id. */
export async function arrange(arranged: Arranged): Promise<string> {
  const arrangement = randomId();
  await save(act('arrangement', { arrangement, ...arranged }));
  return arrangement;
}

/** A later line of an arrangement takes the place of the one before, e.g. with another end. */
export async function arrangeAnew(line: Body<'arrangement'>): Promise<void> {
  await save(act('arrangement', line));
}

/** All is as planned again. */
export async function endArrangement(end: Body<'arrangement-end'>): Promise<void> {
  await save(act('arrangement-end', end));
}
