import { addMonths } from 'date-fns/addMonths';
import { differenceInCalendarDays } from 'date-fns/differenceInCalendarDays';
import { formatISO } from 'date-fns/formatISO';
import { parseISO } from 'date-fns/parseISO';
import type { Body } from '../../../../shared/logbook/kinds.ts';
import type { Instrument } from '../../../../shared/logbook/state/instruments.ts';

/** Days before the due date from which the register speaks up; common practice, no source. */
const SOON_DAYS = 14;

export interface CalibrationState {
  readonly state: 'in' | 'soon' | 'out';
  readonly words: string;
}

/** How an instrument's line stands today; `today` and its dates are ISO dates. */
export function calibrationState(
  { calibratedOn, calibrationDue }: Pick<Body<'instrument'>, 'calibratedOn' | 'calibrationDue'>,
  today: string,
): CalibrationState {
  if (today < calibratedOn) return { state: 'out', words: `out of calibration: calibrated only on ${calibratedOn}` };
  const left = differenceInCalendarDays(parseISO(calibrationDue), parseISO(today));
  if (left < 0) return { state: 'out', words: `out of calibration since ${calibrationDue}` };
  if (left > SOON_DAYS) return { state: 'in', words: `in calibration, due ${calibrationDue}` };
  return { state: 'soon', words: left === 0 ? 'due today' : `due in ${left} ${left === 1 ? 'day' : 'days'}` };
}

/** The due date after an interval, or nothing where either is not known. */
export function dueAfter(calibratedOn: string, months: number | null): string {
  const on = parseISO(calibratedOn);
  if (months === null || Number.isNaN(on.getTime())) return '';
  return formatISO(addMonths(on, months), { representation: 'date' });
}

/** The day of the last calibration that did not find it wrong; the first there is, where all did. */
export function lastGoodCheck({ lines }: Instrument): string {
  const good = lines.filter(({ body }) => body.foundRight !== false).map(({ body }) => body.calibratedOn);
  return good.sort().at(-1) ?? lines[0]!.body.calibratedOn;
}
