import type { Body } from '../../../../shared/logbook/kinds.ts';
import { isDate } from '../../app/time.ts';
import { readFigure } from '../../shared-screens/fields/read-figure.ts';

/** What stands in the fields of the instrument form, as typed. */
export interface InstrumentTexts {
  readonly number: string;
  readonly name: string;
  readonly class: string;
  readonly uncertainty: string;
  /** In 10⁻⁶/K; empty where the instrument is no scale. */
  readonly expansion: string;
  readonly calibratedOn: string;
  readonly calibrationDue: string;
  /** Whether a calibration found it right; asked where a line takes another's place. */
  readonly foundRight: '' | 'yes' | 'no';
  readonly words: string;
}

export type InstrumentErrors = Partial<Record<keyof InstrumentTexts, string>>;

export interface InstrumentContext {
  /** ISO date. */
  readonly today: string;
  /** Numbers that the register holds, without the one that is being changed. */
  readonly taken: readonly string[];
  /** The class's unit; null while no class is chosen. */
  readonly unit: string | null;
  /** A line of this number stands already, calibrated on this date. */
  readonly before: string | null;
}

export type ReadInstrument = { readonly line: Body<'instrument'> } | { readonly errors: InstrumentErrors };

/** Solids lie well inside this; a figure beyond it was typed in another unit. */
const GREATEST_EXPANSION = 1000;

/** Reads the form: a line of the register, or what is wrong at which field. */
export function readInstrument(texts: InstrumentTexts, context: InstrumentContext): ReadInstrument {
  const errors: InstrumentErrors = {};
  const uncertainty = readFigure(texts.uncertainty);
  const expansion = texts.expansion.trim() === '' ? { value: null } : readFigure(texts.expansion);
  const number = texts.number.trim();
  if (number === '') errors.number = 'The number that stands on the instrument is missing.';
  else if (context.taken.includes(number)) errors.number = `${number} is in the register already: change that line.`;
  if (context.unit === null) errors.class = 'Choose what kind of instrument it is.';
  if ('error' in uncertainty) errors.uncertainty = uncertainty.error;
  else if (uncertainty.value < 0) errors.uncertainty = 'An uncertainty is not negative.';
  if ('error' in expansion) errors.expansion = expansion.error;
  else if (Math.abs(expansion.value ?? 0) > GREATEST_EXPANSION) errors.expansion = 'No solid expands that much.';
  Object.assign(errors, dateErrors(texts, context), answerErrors(texts, context));
  if (Object.keys(errors).length > 0 || 'error' in uncertainty || 'error' in expansion) return { errors };
  const words = texts.words.trim();
  return {
    line: {
      instrument: number,
      class: texts.class,
      name: texts.name.trim() || number,
      unit: context.unit!,
      standardUncertainty: uncertainty.value,
      expansion_per_K: expansion.value === null ? null : Number((expansion.value / 1e6).toPrecision(12)),
      calibratedOn: texts.calibratedOn,
      calibrationDue: texts.calibrationDue,
      ...(texts.foundRight === '' ? {} : { foundRight: texts.foundRight === 'yes' }),
      ...(words === '' ? {} : { words }),
    },
  };
}

function dateErrors({ calibratedOn, calibrationDue }: InstrumentTexts, { today }: InstrumentContext): InstrumentErrors {
  const errors: InstrumentErrors = {};
  if (!isDate(calibratedOn)) errors.calibratedOn = 'The date of the last calibration is missing.';
  else if (calibratedOn > today) errors.calibratedOn = `${calibratedOn} lies in the future.`;
  if (!isDate(calibrationDue)) errors.calibrationDue = 'The date on which the next is due is missing.';
  else if (calibrationDue <= calibratedOn) errors.calibrationDue = 'The next is due after the last.';
  return errors;
}

/** A new calibration says how the instrument was found: what was read with it since the last one hangs on it. */
function answerErrors({ calibratedOn, foundRight }: InstrumentTexts, { before }: InstrumentContext): InstrumentErrors {
  if (before === null || calibratedOn <= before || foundRight !== '') return {};
  return { foundRight: 'Say whether it was found right: earlier readings hang on it.' };
}
