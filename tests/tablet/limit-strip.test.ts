import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LOWER_POST, type StripInput, stripScale, UPPER_POST } from '../../src/tablet/parts/limit-strip-scale.ts';
import { stripWords } from '../../src/tablet/parts/limit-strip-words.ts';

const tub: StripInput = { value: 3218.52, lower: 3215.74, upper: 3218.74, nominal: 3217.24, guard: 0.34 };

describe('stripScale', () => {
  it('stands the limits at 20.6 % and 79.4 % of the width, nominal between', () => {
    const { posts, nominal } = stripScale(tub);
    expect(posts[0]).toBeCloseTo(0.206, 9);
    expect(posts[1]).toBeCloseTo(0.794, 9);
    expect(nominal).toBeCloseTo(0.5, 9);
  });
  it('places the value and its whisker by the same scale', () => {
    const { diamond, whisker, off } = stripScale(tub);
    expect(diamond).toBeCloseTo(0.206 + (2.78 / 3) * 0.588, 9);
    expect(whisker!.to - whisker!.from).toBeCloseTo((0.68 / 3) * 0.588, 9);
    expect(off).toBeNull();
  });
  it('hatches both sides of both posts and leaves the bar between the acceptance limits', () => {
    const { hatch, clear } = stripScale(tub);
    const guard = (0.34 / 3) * 0.588;
    expect(hatch).toHaveLength(2);
    expect(hatch[1]!.from).toBeCloseTo(UPPER_POST - guard, 9);
    expect(hatch[1]!.to).toBeCloseTo(UPPER_POST + guard, 9);
    expect(clear!.from).toBeCloseTo(LOWER_POST + guard, 9);
    expect(clear!.to).toBeCloseTo(UPPER_POST - guard, 9);
  });
  it('draws one hatch and no bar where the guard fills the tolerance, at the same scale', () => {
    const wide = stripScale({ ...tub, guard: 1.6 });
    expect(wide.clear).toBeNull();
    expect(wide.hatch).toHaveLength(1);
    expect(wide.posts).toEqual(stripScale(tub).posts);
  });
  it('holds a value past the end inside and says which end', () => {
    expect(stripScale({ ...tub, value: 3230 })).toMatchObject({ diamond: 1, off: 'high', whisker: null });
    expect(stripScale({ ...tub, value: 3200 })).toMatchObject({ diamond: 0, off: 'low', whisker: null });
  });
  it('has no diamond when nothing is measured', () => {
    expect(stripScale({ ...tub, value: null })).toMatchObject({ diamond: null, whisker: null, off: null });
  });
  it('stands a single limit at its own post with one open end', () => {
    const upper = stripScale({ value: 14.9, lower: null, upper: 16, nominal: null, guard: 0.6 });
    expect(upper).toMatchObject({ kind: 'upper', posts: [UPPER_POST] });
    expect(upper.clear!.from).toBe(0);
    expect(upper.diamond!).toBeLessThan(UPPER_POST);
    const lower = stripScale({ value: 2861, lower: 2773, upper: null, nominal: null, guard: 5 });
    expect(lower).toMatchObject({ kind: 'lower', posts: [LOWER_POST] });
    expect(lower.clear!.to).toBe(1);
    expect(lower.diamond!).toBeGreaterThan(LOWER_POST);
  });
  it('takes the span of a single limit from the caller, else from nominal', () => {
    const one = { value: 15, lower: null, upper: 16, guard: 0 };
    expect(stripScale({ ...one, nominal: null, span: 4 }).diamond).toBeCloseTo(UPPER_POST - 0.588 / 4, 9);
    expect(stripScale({ ...one, nominal: 12 }).nominal).toBeCloseTo(0.5, 9);
  });
  it('draws a plain rule without limits, the value in the middle', () => {
    const none = stripScale({ value: 7, lower: null, upper: null, nominal: null, guard: 0.2 });
    expect(none).toMatchObject({ kind: 'none', posts: [], hatch: [], clear: null, diamond: 0.5 });
  });
  it('keeps the posts of superseded limits where they are on the strip', () => {
    const revised = stripScale({ ...tub, superseded: { lower: 3216.24, upper: 3300 } });
    expect(revised.superseded).toHaveLength(1);
    expect(revised.superseded[0]).toBeCloseTo(LOWER_POST + (0.5 / 3) * 0.588, 9);
  });
  it('keeps every part inside the strip, whatever comes', () => {
    const number = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    const maybe = fc.option(number, { nil: null });
    const input = fc.record({
      value: maybe,
      lower: maybe,
      upper: maybe,
      nominal: maybe,
      guard: fc.double({ min: 0, max: 1e6, noNaN: true }),
    });
    fc.assert(
      fc.property(input, (strip) => {
        const s = stripScale(strip);
        const stretches = [...s.hatch, ...(s.clear ? [s.clear] : []), ...(s.whisker ? [s.whisker] : [])];
        const places = [...s.posts, ...s.superseded, ...stretches.flatMap(({ from, to }) => [from, to])];
        if (s.diamond !== null) places.push(s.diamond);
        if (s.nominal !== null) places.push(s.nominal);
        for (const place of places) {
          expect(place).toBeGreaterThanOrEqual(0);
          expect(place).toBeLessThanOrEqual(1);
        }
        for (const { from, to } of stretches) expect(to).toBeGreaterThanOrEqual(from);
      }),
    );
  });
});

describe('stripWords', () => {
  const said = { ...tub, decimals: 2, unit: 'mm', verdict: 'not-proven' } as const;
  it('says the deviation, the nearer limit, the guard and the verdict', () => {
    expect(stripWords(said)).toBe('1.28 above nominal, upper limit 1.50, guard 0.34: not proven');
    expect(stripWords({ ...said, value: 3215.31, verdict: 'outside' })).toBe(
      '1.93 below nominal, lower limit 1.50, guard 0.34: outside',
    );
  });
  it('gives a limit on the far side of nominal its sign', () => {
    expect(stripWords({ ...said, value: 3216, lower: 3215, upper: 3217 })).toContain('upper limit −0.24');
  });
  it('speaks of values where there is no nominal', () => {
    const rate = { value: 14.9, lower: null, upper: 16, nominal: null, guard: 0.6, decimals: 1, unit: 'K/h' };
    expect(stripWords({ ...rate, verdict: 'within' })).toBe('14.9 K/h, upper limit 16.0, guard 0.6: within');
  });
  it('says so when there is nothing to judge', () => {
    expect(stripWords({ ...said, value: null, verdict: null })).toBe('not measured');
    expect(stripWords({ ...said, lower: null, upper: null, verdict: null })).toBe(
      '1.28 above nominal, no limits, guard 0.34',
    );
    expect(stripWords({ ...said, value: 3217.24, verdict: 'within' })).toContain('at nominal');
  });
});
