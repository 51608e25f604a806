import type { Kept } from '../../../../shared/logbook/log.ts';
import {
  type Instrument,
  inCalibration,
  instruments,
  questionAt,
} from '../../../../shared/logbook/state/instruments.ts';
import { byTime, stationStates } from '../../../../shared/logbook/state/readings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Survey } from './survey-of.ts';

/** An instrument of the register as a person chooses it for a survey. */
export interface InstrumentChoice {
  readonly instrument: Instrument;
  readonly ofClass: boolean;
  readonly calibrated: boolean;
  /** In calibration or not, in words. */
  readonly words: string;
}

/** The register for a survey: the classes that may take it first. */
export function instrumentChoices(view: View, { characteristic }: Survey, at: string): InstrumentChoice[] {
  const choices = instruments(view).map((instrument) => {
    const ofClass = characteristic.instruments.includes(instrument.line.class);
    const calibrated = inCalibration(instrument, at) && questionAt(instrument, at) === null;
    return { instrument, ofClass, calibrated, words: calibrationWords(instrument, calibrated, at) };
  });
  const rank = (c: InstrumentChoice) => (c.ofClass ? 0 : 2) + (c.calibrated ? 0 : 1);
  return choices.sort((a, b) => rank(a) - rank(b) || (a.instrument.id < b.instrument.id ? -1 : 1));
}

function calibrationWords(found: Instrument, calibrated: boolean, at: string): string {
  const { line } = found;
  if (calibrated) return 'in calibration';
  if (questionAt(found, at)) return 'found bad, not calibrated since';
  if (at.slice(0, 10) < line.calibratedOn) return `not yet calibrated then, only on ${line.calibratedOn}`;
  return `out of calibration since ${line.calibrationDue}`;
}

/**
 * The instrument to begin with: the one that took the last reading of this survey, or of the survey that it is compared
 * with; else the first of the right class that is in calibration. Undefined where a person has to choose.
 */
export function usualInstrument(view: View, survey: Survey, choices: readonly InstrumentChoice[]): string | undefined {
  const { characteristic, operation } = survey;
  const upToHere = characteristic.operations.slice(0, characteristic.operations.indexOf(operation.id) + 1).reverse();
  const used = upToHere.flatMap((id) => lastInstrument(view, id, characteristic.id) ?? [])[0];
  const known = choices.find((c) => c.instrument.id === used && c.ofClass);
  return (known ?? choices.find((c) => c.ofClass && c.calibrated) ?? choices.find((c) => c.ofClass))?.instrument.id;
}

/** The instrument of the latest reading that stands. */
export const lastInstrument = (view: View, operation: string, characteristic: string): string | null =>
  view.memo.get(`last instrument/${operation}/${characteristic}`, () => {
    let latest: Kept<'reading'> | null = null;
    for (const { current } of stationStates(view, operation, characteristic).values())
      for (const reading of current) if (latest === null || byTime(reading, latest) > 0) latest = reading;
    return latest?.body.instrument ?? null;
  });
