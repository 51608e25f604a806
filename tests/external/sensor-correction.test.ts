import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sensorCorrection } from '../../shared/calculations/sensor-correction.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

describeOutsideChecks(sensorCorrection);

const points = fc
  .uniqueArray(
    fc.record({
      indicated_C: fc.integer({ min: 0, max: 1200 }),
      correction_K: fc.double({ min: -5, max: 5, noNaN: true }),
    }),
    { selector: (p) => p.indicated_C, minLength: 1, maxLength: 8 },
  )
  .map((list) => list);

describe('sensor-correction', () => {
  it('goes through its points, stays between its neighbours, and does not mind their order', () => {
    fc.assert(
      fc.property(points, fc.double({ min: -100, max: 1400, noNaN: true }), (list, indicated_C) => {
        for (const p of list)
          expect(resultOf(sensorCorrection, { points: list, indicated_C: p.indicated_C }).correction_K).toBeCloseTo(
            p.correction_K,
            12,
          );
        const result = resultOf(sensorCorrection, { points: list, indicated_C });
        const all = list.map((p) => p.correction_K);
        expect(result.correction_K).toBeGreaterThanOrEqual(Math.min(...all) - 1e-12);
        expect(result.correction_K).toBeLessThanOrEqual(Math.max(...all) + 1e-12);
        expect(resultOf(sensorCorrection, { points: list.toReversed(), indicated_C })).toEqual(result);
      }),
      { seed: 3, numRuns: 200 },
    );
  });

  it('holds the nearest correction outside its points, and tells how far outside', () => {
    const two = [
      { indicated_C: 500, correction_K: -0.4 },
      { indicated_C: 600, correction_K: -0.9 },
    ];
    expect(resultOf(sensorCorrection, { points: two, indicated_C: 700 })).toEqual({
      correction_K: -0.9,
      corrected_C: 699.1,
      outside_K: 100,
    });
    expect(resultOf(sensorCorrection, { points: two, indicated_C: 480 }).outside_K).toBe(20);
  });

  it.each([
    [{ points: [], indicated_C: 20 }, 'points', 'needs at least 1 point'],
    [
      {
        points: [
          { indicated_C: 20, correction_K: 0 },
          { indicated_C: 20, correction_K: 1 },
        ],
        indicated_C: 20,
      },
      'points',
      'has two points at 20 °C',
    ],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(sensorCorrection, input)).toEqual({ path, message });
  });
});
