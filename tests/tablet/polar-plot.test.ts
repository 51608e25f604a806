import { describe, expect, it } from 'vitest';
import { bothEnds, placeOf, polarPath, radiusOf } from '../../src/tablet/parts/polar-plot-scale.ts';

describe('polar plot', () => {
  it('draws the limits as two fixed circles and nominal half way', () => {
    expect(radiusOf(-1.5, -1.5, 1.5)).toBe(60);
    expect(radiusOf(1.5, -1.5, 1.5)).toBe(132);
    expect(radiusOf(0, -1.5, 1.5)).toBe(96);
  });
  it('holds what is past the edge inside the drawing', () => {
    expect(radiusOf(40, -1.5, 1.5)).toBe(146);
    expect(radiusOf(-40, -1.5, 1.5)).toBe(12);
  });
  it('counts angles anticlockwise from the right', () => {
    expect(placeOf(0, 100)).toEqual([250, 150]);
    expect(placeOf(90, 100)).toEqual([150, 50]);
    expect(placeOf(270, 100)).toEqual([150, 250]);
  });
  it('breaks at a station not measured and closes when all are', () => {
    const three = [0, 90, 180].map((angle) => ({ angle, deviation: 0 as number | null }));
    expect(polarPath(three, -1.5, 1.5)).toBe('M246 150L150 54L54 150Z');
    three[1] = { angle: 90, deviation: null };
    expect(polarPath(three, -1.5, 1.5)).toBe('M246 150M54 150');
  });
  it('draws a diameter at both ends', () => {
    expect(bothEnds([{ angle: 15, deviation: 1 }])).toEqual([
      { angle: 15, deviation: 1 },
      { angle: 195, deviation: 1 },
    ]);
  });
});
