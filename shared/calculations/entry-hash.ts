import * as z from 'zod/mini';
import { canonicalJson, sha256Hex } from '../logbook/canonical.ts';
import { defineCalculation, RefusedInput, workedOut } from './calculation.ts';

const input = z.strictObject({ entry: z.unknown() });
const output = z.strictObject({ sha256: z.string() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** How much of a long entry a working shows. */
const SHOWN_CHARACTERS = 400;

/** The canonical text of an entry. @throws {RefusedInput} for what has none. */
function canonicalText(entry: unknown): string {
  try {
    return canonicalJson(entry);
  } catch {
    throw new RefusedInput(
      'entry',
      'has no canonical form: a number overflows, a text holds half a surrogate pair, or it is nested too deeply',
    );
  }
}

/** The hash that ties an entry of the log to the next. */
export const entryHash = defineCalculation<Input, Output>({
  name: 'entry-hash',
  title: 'Hash of an entry',
  group: 'Planning and proof',
  source: 'RFC 8785 (JSON canonicalization scheme) and FIPS 180-4 (SHA-256)',
  formula: 'SHA-256(UTF-8(canonical JSON of the entry))',
  validity: 'Numbers are IEEE 754 doubles, as RFC 8785 asks: digits beyond them are lost before the hash.',
  version: 1,
  input,
  output,
  compute(i) {
    return { sha256: sha256Hex(canonicalText(i.entry)) };
  },
  working(i, o) {
    const text = canonicalText(i.entry);
    const shown = text.length > SHOWN_CHARACTERS ? `${text.slice(0, SHOWN_CHARACTERS)}…` : text;
    return [
      workedOut(
        'text',
        'canonical JSON of the entry',
        shown,
        '',
        'keys sorted, no blanks, numbers as ECMAScript writes them',
        'RFC 8785',
      ),
      workedOut('length', 'of the canonical text', text.length, 'UTF-16 units', 'counted'),
      workedOut('hash', 'SHA-256 of its UTF-8 bytes', o.sha256, 'hex', 'SHA-256(text)', 'FIPS 180-4'),
    ];
  },
});
