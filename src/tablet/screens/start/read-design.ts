import type { Design } from '../../../../shared/plan/schema.ts';
import { readFigure } from '../../shared-screens/fields/read-figure.ts';
import { type DesignFieldSpec, type DesignKey, designField, designFields } from './design-fields.ts';

/** What stands in the fields of the design, as typed. */
export type DesignTexts = Readonly<Record<DesignKey, string>>;
export type DesignErrors = Readonly<Partial<Record<DesignKey, string>>>;

/** Moves the decimal mark without the noise of a multiplication: 3.3 by −6 is the number 3.3e-6 itself. */
function scaled(value: number, exponent: number): number {
  const plain = String(value);
  return plain.includes('e') ? value * 10 ** exponent : Number(`${plain}e${exponent}`);
}

/** A design as it stands in the fields. */
export function textsOf(design: Design, decimalMark: '.' | ','): DesignTexts {
  const text = ({ key, exponent = 0 }: DesignFieldSpec) =>
    String(Number(scaled(design[key], -exponent).toPrecision(12))).replace('.', decimalMark);
  return Object.fromEntries(designFields.map((field) => [field.key, text(field)])) as Record<DesignKey, string>;
}

/** Reads the fields: the design where every one holds a figure, else what is wrong at which field. */
export function readDesign(texts: DesignTexts): { design: Design | null; errors: DesignErrors } {
  const read = designFields.map((field) => ({ field, read: readFigure(texts[field.key]) }));
  const errors = Object.fromEntries(read.flatMap(({ field, read: r }) => ('error' in r ? [[field.key, r.error]] : [])));
  if (Object.keys(errors).length > 0) return { design: null, errors };
  const design = Object.fromEntries(
    read.map(({ field, read: r }) => [field.key, 'value' in r ? scaled(r.value, field.exponent ?? 0) : Number.NaN]),
  );
  return { design: design as Design, errors };
}

/** A refusal of the calculations as a sentence at its field; its figures in the unit that is typed. */
export function refusalAt(path: string, message: string): { key: DesignKey | null; words: string } {
  const field = designField(path);
  if (!field) return { key: null, words: `${path ? `${path} ` : 'The design '}${message}.` };
  const typed = field.exponent === -2 ? message.replace(/\d+(\.\d+)?/g, (n) => `${scaled(Number(n), 2)} %`) : message;
  return { key: field.key, words: `${field.label} ${typed}.` };
}
