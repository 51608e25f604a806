import type { Body } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { byTime } from './by-time.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

export interface Instrument {
  readonly id: string;
  /** The line of the register that stands. */
  readonly line: Body<'instrument'>;
  /** All live lines, oldest first. */
  readonly lines: readonly Kept<'instrument'>[];
  /** It was found bad: what was read with it in these times is in question. Oldest first. */
  readonly questions: readonly Question[];
}

/** A time in which nothing that was read with an instrument can be relied on. */
export interface Question {
  /** The check that found it right last, and the one that found it bad: an instant, or a day where only that is known. */
  readonly since: string;
  readonly foundAt: string;
  /** The day of the next calibration; null while it stays out of use, or where it was adjusted at once. */
  readonly againOn: string | null;
  readonly words: string | null;
  /** The entry that says so. */
  readonly by: string;
  /** Whether a use at an instant falls into it. */
  readonly covers: (observedAt: string) => boolean;
}

export function instruments(view: View): Instrument[] {
  return view.memo.get('instruments', () =>
    view.log.scopeNames('instrument/').flatMap((scope) => {
      const lines = live(view, scope, 'instrument').sort(byTime);
      const last = lines.at(-1);
      if (!last) return [];
      const questions = [...recalls(view, scope, lines), ...foundWrong(lines)];
      return [{ id: last.body.instrument, line: last.body, lines, questions: questions.sort(bySince) }];
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

/** The time in question that a reading falls into; null where its instrument is trusted. */
export function questionOf(view: View, { body, entry }: Kept<'reading'>): Question | null {
  const found = body.instrument === null ? null : instrument(view, body.instrument);
  return found?.questions.find((q) => q.covers(entry.observedAt)) ?? null;
}

/** The time in question that reaches to an instant, as somebody who would use it now must know. */
export const questionAt = (found: Instrument, at: string): Question | null =>
  found.questions.find((q) => q.covers(at)) ?? null;

const bySince = (a: Question, b: Question): number => (a.since < b.since ? -1 : a.since > b.since ? 1 : 0);

/** Calibrations are known by the day, as clocks showed it where the reading was taken. */
const dayOf = (at: string): string => at.slice(0, 10);

/** From the last good check until it was found bad, and on until it was calibrated again. */
const recalls = (view: View, scope: string, lines: readonly Kept<'instrument'>[]): Question[] =>
  live(view, scope, 'recall').map((recall) => {
    const { since, foundAt, words } = recall.body;
    const again = lines.find(
      (line) => byTime(line, recall) > 0 && line.body.calibratedOn >= dayOf(foundAt) && line.body.foundRight !== false,
    );
    const againOn = again?.body.calibratedOn ?? null;
    const [since_ms, found_ms] = [Date.parse(since), Date.parse(foundAt)];
    const covers = (at: string): boolean =>
      Date.parse(at) >= since_ms && (Date.parse(at) < found_ms || againOn === null || dayOf(at) < againOn);
    return { since, foundAt, againOn, words, by: recall.hash, covers };
  });

/** A calibration that found it not right puts in question what was read since the one before. */
const foundWrong = (lines: readonly Kept<'instrument'>[]): Question[] =>
  lines.flatMap(({ body, hash }, i) => {
    const foundAt = body.calibratedOn;
    const good = lines.slice(0, i).filter((l) => l.body.foundRight !== false && l.body.calibratedOn < foundAt);
    const since = good.at(-1)?.body.calibratedOn;
    if (body.foundRight !== false || since === undefined) return [];
    const covers = (at: string): boolean => dayOf(at) >= since && dayOf(at) < foundAt;
    return [{ since, foundAt, againOn: foundAt, words: body.words ?? null, by: hash, covers }];
  });
