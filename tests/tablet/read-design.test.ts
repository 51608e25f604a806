import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { derivedFigures } from '../../shared/plan/derived-figures.ts';
import { designSchema } from '../../shared/plan/design.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { blankGeometry } from '../../src/tablet/screens/start/blank-geometry.ts';
import { designFields } from '../../src/tablet/screens/start/design-fields.ts';
import { readDesign, refusalAt, textsOf } from '../../src/tablet/screens/start/read-design.ts';
import { readFigure } from '../../src/tablet/shared-screens/fields/read-figure.ts';

const errorOf = (text: string): string | undefined => {
  const read = readFigure(text);
  return 'error' in read ? read.error : undefined;
};

describe('readFigure', () => {
  // ISO 80000-1:2022, 7.3: the decimal sign is a comma or a point on the line (from memory).
  it('takes comma and point, and spaces between thousands', () => {
    expect(readFigure('3\u202f217,36')).toEqual({ value: 3217.36 });
    expect(readFigure(' 3217.36 ')).toEqual({ value: 3217.36 });
    expect(readFigure('\u22125')).toEqual({ value: -5 });
  });
  it('says what is wrong in words', () => {
    expect(errorOf('')).toContain('missing');
    expect(errorOf('12a')).toContain('“a”');
    expect(errorOf('1e999')).toContain('power of ten');
    expect(errorOf('1.234,5')).toContain('Two decimal marks');
    expect(errorOf('--5')).toContain('not one plain figure');
    expect(errorOf('9'.repeat(400))).toContain('too large');
  });
  it('never throws and never gives a number that is not finite', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const read = readFigure(text);
        if ('value' in read) expect(Number.isFinite(read.value)).toBe(true);
        else expect(read.error).not.toBe('');
      }),
    );
  });
});

describe('readDesign', () => {
  it('asks for every figure of the design once', () => {
    expect(designFields.map((f) => f.key).sort()).toEqual(Object.keys(designSchema.shape).sort());
  });
  it('reads back what it wrote, to the last digit, with either mark', () => {
    for (const mark of ['.', ','] as const) {
      expect(readDesign(textsOf(practiceDesign, mark))).toEqual({ design: practiceDesign, errors: {} });
    }
    expect(textsOf(practiceDesign, ',').glass_expansion_per_K).toBe('3,3');
    expect(textsOf(practiceDesign, '.').core_shrinkage).toBe('0.3');
  });
  it('names every field that holds no figure, and gives no design', () => {
    const texts = { ...textsOf(practiceDesign, '.'), pitch_mm: 'abc', gap_mm: '1,2.3' };
    const { design, errors } = readDesign(texts);
    expect(design).toBeNull();
    expect(Object.keys(errors).sort()).toEqual(['gap_mm', 'pitch_mm']);
  });
  it('leads to the derived figures, or to a refusal at a field that is on the form', () => {
    const keys = designFields.map((f) => f.key);
    fc.assert(
      fc.property(
        fc.constantFrom(...keys),
        fc.oneof(
          fc.constantFrom('0', '-1', '1000000', '0.000001'),
          fc.double({ noNaN: true, min: -1e6, max: 1e6 }).map((n) => n.toFixed(4)),
        ),
        (key, text) => {
          const { design } = readDesign({ ...textsOf(practiceDesign, '.'), [key]: text });
          const derived = derivedFigures(design!);
          if ('figures' in derived) {
            expect(derived.figures.length).toBeGreaterThan(40);
            expect(blankGeometry(design!).pockets.every((p) => p.top > p.bottom)).toBe(true);
          } else {
            const { path, message } = derived.error;
            expect(refusalAt(path, message).key, `${key} ${text}: ${path}`).not.toBeNull();
          }
        },
      ),
      { numRuns: 400 },
    );
  });
  it('says a refusal in the unit that is typed', () => {
    expect(refusalAt('glass_allowance', 'must lie between 0 and 0.5').words).toBe(
      'Glass added for losses must lie between 0 % and 50 %.',
    );
    expect(refusalAt('', 'leads nowhere')).toEqual({ key: null, words: 'The design leads nowhere.' });
  });
});
