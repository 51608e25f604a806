import { isDate } from '../../app/time.ts';
import { parseFigure } from '../../parts/parse-figure.ts';

/** Corrections as they are typed: a line a point. */
export interface CorrectionTexts {
  readonly lines: string;
  readonly calibratedOn: string;
  readonly certificate: string;
}

export interface CorrectionPoints {
  readonly corrections: { at: number; correction: number }[];
  readonly calibratedOn: string;
  readonly words: string;
}

/** The points, or what must be put right first. */
export function readCorrections(texts: CorrectionTexts): CorrectionPoints | { ask: string } {
  const lines = texts.lines.split('\n').map((l) => l.trim());
  const corrections: CorrectionPoints['corrections'] = [];
  for (const [i, line] of lines.entries()) {
    if (line === '') continue;
    const [at, correction, ...more] = line.split(/\s+/).map(parseFigure);
    if (typeof at !== 'number' || typeof correction !== 'number' || more.length > 0)
      return { ask: `Line ${i + 1}, "${line}", is not a temperature and a correction, such as 560 −0.7.` };
    if (at < -273.15) return { ask: `Line ${i + 1} lies below absolute zero.` };
    if (Math.abs(correction) > 50) return { ask: `Line ${i + 1}: a correction of ${correction} K? Temperature first.` };
    if (corrections.some((c) => c.at === at)) return { ask: `There are two corrections at ${at} °C.` };
    corrections.push({ at, correction });
  }
  if (corrections.length === 0) return { ask: 'Type at least one point: a temperature, a blank, its correction.' };
  if (!isDate(texts.calibratedOn)) return { ask: 'Say on which date it was calibrated.' };
  if (texts.certificate.trim() === '') return { ask: 'Say which certificate the corrections are from.' };
  return { corrections, calibratedOn: texts.calibratedOn, words: texts.certificate.trim() };
}
