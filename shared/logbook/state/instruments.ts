import type { Body } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { byTime } from './readings.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

export interface Instrument {
  readonly id: string;
  /** The line of the register that stands. */
  readonly line: Body<'instrument'>;
  /** All live lines, oldest first. */
  readonly lines: readonly Kept<'instrument'>[];
}

export function instruments(view: View): Instrument[] {
  return view.memo.get('instruments', () =>
    view.log.scopeNames('instrument/').flatMap((scope) => {
      const lines = live(view, scope, 'instrument').sort(byTime);
      const last = lines.at(-1);
      return last ? [{ id: last.body.instrument, line: last.body, lines }] : [];
    }),
  );
}

export const instrument = (view: View, id: string): Instrument | null =>
  view.memo.get('instruments by id', () => new Map(instruments(view).map((i) => [i.id, i]))).get(id) ?? null;

/**
 * Whether an instrument was in calibration at a time: between a calibration and its due date, or cleared by a later
 * calibration that found it right.
 */
export function inCalibration(found: Instrument | null, at: string): boolean {
  const day = at.slice(0, 10);
  return (found?.lines ?? []).some(
    ({ body }) =>
      (body.calibratedOn <= day && day <= body.calibrationDue) || (body.foundRight === true && day < body.calibratedOn),
  );
}
