import type { Body } from '../../../shared/logbook/kinds.ts';
import { act, save } from './save.ts';

/** Marks the instant at which a heat began; the due times of its rounds count from it. */
export const startHeat = (operation: string, heat: string, observedAt?: string): Promise<unknown> =>
  save(act('operation', { operation, mark: 'started', heat }, observedAt === undefined ? {} : { observedAt }));

/** Writes one round with all its channels. */
export const recordRound = (body: Body<'round'>, observedAt: string): Promise<unknown> =>
  save(act('round', body, { observedAt }));

/** What notes on a due round are about. */
export const roundAbout = (heat: string, number: number): string => `round/${heat}/${number}`;

/** Says why a round was missed. */
export const noteOnRound = (heat: string, number: number, text: string): Promise<unknown> =>
  save(act('note', { about: roundAbout(heat, number), text }));
