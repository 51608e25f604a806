import type { Body } from '../../../shared/logbook/kinds.ts';
import { roundAbout } from '../../../shared/logbook/state/rounds.ts';
import { act, save } from './save.ts';

/** Marks the instant at which a heat began; the due times of its rounds count from it. */
export const startHeat = (operation: string, heat: string, observedAt?: string): Promise<unknown> =>
  save(act('operation', { operation, mark: 'started', heat }, observedAt === undefined ? {} : { observedAt }));

/** Writes one round with all its channels. */
export const recordRound = (body: Body<'round'>, observedAt: string): Promise<unknown> =>
  save(act('round', body, { observedAt }));

/** Says why a round was missed. */
export const noteOnRound = (heat: string, number: number, text: string): Promise<unknown> =>
  save(act('note', { about: roundAbout(heat, number), text }));
