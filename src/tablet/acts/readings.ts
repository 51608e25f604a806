import type { Body } from '../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../shared/logbook/log.ts';
import { act, save } from './save.ts';
import { strike } from './strike.ts';

/** A reading, ready to be written; `observedAt` where it was not read just now. */
export interface ReadingToKeep {
  readonly body: Body<'reading'>;
  readonly observedAt?: string;
}

const actOf = ({ body, observedAt }: ReadingToKeep) =>
  act('reading', body, observedAt === undefined ? {} : { observedAt });

/** Writes one reading. */
export const recordReading = (reading: ReadingToKeep): Promise<Kept[]> => save(actOf(reading));

/** Writes many readings, all or none. */
export const recordReadings = (readings: readonly ReadingToKeep[]): Promise<Kept[]> => save(...readings.map(actOf));

/**
 * Corrects a reading in one step: strikes it and writes the other in its place. The striker signs.
 * @returns false when the striker turned away from the PIN: then nothing was written.
 */
export const correctReading = (
  target: string,
  reason: string,
  words: string | undefined,
  instead: ReadingToKeep,
): Promise<boolean> => strike(target, reason, words, [actOf(instead)]);
