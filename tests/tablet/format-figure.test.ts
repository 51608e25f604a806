import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyKey, type Key } from '../../src/tablet/parts/apply-key.ts';
import { formatDecimalText, formatFigure } from '../../src/tablet/parts/format-figure.ts';
import { parseFigure } from '../../src/tablet/parts/parse-figure.ts';

describe('formatFigure', () => {
  // ISO 80000-1:2022, 7.3.2: digits in groups of three, parted by a small space, no other mark (from memory).
  it('parts thousands by a thin space', () => {
    expect(formatFigure(3218.96, { decimals: 2 })).toBe('3\u202f218.96');
    expect(formatFigure(1234567, { decimals: 0 })).toBe('1\u202f234\u202f567');
    expect(formatFigure(999, { decimals: 1 })).toBe('999.0');
  });
  it('writes a true minus and the sign of a deviation', () => {
    expect(formatFigure(-1.93, { decimals: 2 })).toBe('\u22121.93');
    expect(formatFigure(1.28, { decimals: 2, signed: true })).toBe('+1.28');
    expect(formatFigure(-0.001, { decimals: 2 })).toBe('0.00');
    expect(formatFigure(-0.001, { decimals: 2, signed: true })).toBe('+0.00');
  });
  it('has no figure for what is not measured', () => {
    expect(formatFigure(null, { decimals: 2 })).toBe('–');
    expect(formatFigure(Number.NaN, { decimals: 2 })).toBe('–');
  });
  it('keeps every digit of a text', () => {
    expect(formatDecimalText('-3218.500')).toBe('\u22123\u202f218.500');
    expect(formatDecimalText('3218.5', ',')).toBe('3\u202f218,5');
    expect(formatDecimalText('5.2e3')).toBe('5.2e3');
  });
  it('is read back as the same figure', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -9_999_999, max: 9_999_999 }),
        fc.constantFrom('.' as const, ',' as const),
        (n, mark) => {
          const value = n / 100;
          expect(parseFigure(formatFigure(value, { decimals: 2, decimalMark: mark, signed: true }))).toBeCloseTo(
            value,
            9,
          );
        },
      ),
    );
  });
});

describe('parseFigure', () => {
  it('accepts comma, point, spaces and both minus signs', () => {
    expect(parseFigure('3 218,96')).toBe(3218.96);
    expect(parseFigure('\u22120.5')).toBe(-0.5);
    expect(parseFigure('.5')).toBe(0.5);
  });
  it('refuses what is not one figure', () => {
    for (const text of ['', '-', '.', '1.234,5', '1,234.5', '12a', '1e3', '--1']) expect(parseFigure(text)).toBeNull();
  });
});

describe('applyKey', () => {
  const type = (keys: Key[], mark: '.' | ',' = '.') => keys.reduce((text, key) => applyKey(text, key, mark), '');
  it('builds a figure key by key', () => {
    expect(type(['1', '2', 'mark', '5'])).toBe('12.5');
    expect(type(['mark', '5'], ',')).toBe('0,5');
    expect(type(['1', 'mark', 'mark', '2'])).toBe('1.2');
  });
  it('turns the sign and rubs out', () => {
    expect(type(['1', 'sign'])).toBe('\u22121');
    expect(type(['1', 'sign', 'sign'])).toBe('1');
    expect(type(['1', '2', 'rub'])).toBe('1');
    expect(type(['rub'])).toBe('');
  });
  it('never builds a text that a further digit would not make a figure', () => {
    const keys = fc.array(fc.constantFrom<Key>('0', '1', '7', 'mark', 'sign', 'rub'), { maxLength: 12 });
    fc.assert(
      fc.property(keys, (pressed) => {
        expect(parseFigure(applyKey(type(pressed), '4'))).not.toBeNull();
      }),
    );
  });
});
