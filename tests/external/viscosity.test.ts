import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { viscosity } from '../../shared/calculations/viscosity.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

const points = [
  { temperature_C: 560, log10_Pa_s: 12 },
  { temperature_C: 825, log10_Pa_s: 6.6 },
  { temperature_C: 1260, log10_Pa_s: 3 },
];

describeOutsideChecks(viscosity);

describe('viscosity', () => {
  it('gives the derived figures of the practice blank', () => {
    const at1160 = resultOf(viscosity, { points, temperature_C: 1160 });
    expect(at1160.A).toBeCloseTo(-3.1548, 4);
    expect(at1160.B).toBeCloseTo(7254.77, 2);
    expect(at1160.T0_C).toBeCloseTo(81.29, 2);
    expect(at1160.log10_Pa_s).toBeCloseTo(3.571, 3);
    expect(10 ** (at1160.log10_Pa_s as number) / 3720).toBeCloseTo(1, 3);
    const strain = resultOf(viscosity, { points, log10_Pa_s: 13.5 });
    expect(strain.temperature_C).toBeCloseTo(516.9, 1);
    expect(resultOf(viscosity, { points, log10_Pa_s: 15.6 }).temperature_C).toBeCloseTo(468, 0);
  });

  it('marks what lies outside the three points', () => {
    expect(resultOf(viscosity, { points, temperature_C: 559.9 }).extrapolated).toBe(true);
    expect(resultOf(viscosity, { points, log10_Pa_s: 12.01 }).extrapolated).toBe(true);
    for (const { temperature_C, log10_Pa_s } of points) {
      expect(resultOf(viscosity, { points, temperature_C }).extrapolated).toBe(false);
      expect(resultOf(viscosity, { points, log10_Pa_s }).extrapolated).toBe(false);
    }
  });

  it('recovers any curve that the points were taken from, whatever their order', () => {
    const curve = fc.record({
      A: fc.double({ min: -6, max: 1, noNaN: true }),
      B: fc.double({ min: 1500, max: 12000, noNaN: true }),
      T0: fc.double({ min: -100, max: 400, noNaN: true }),
      first: fc.double({ min: 30, max: 300, noNaN: true }),
      steps: fc.tuple(fc.double({ min: 20, max: 500, noNaN: true }), fc.double({ min: 20, max: 500, noNaN: true })),
      order: fc.shuffledSubarray([0, 1, 2], { minLength: 3, maxLength: 3 }),
      ask: fc.double({ min: 5, max: 1500, noNaN: true }),
    });
    fc.assert(
      fc.property(curve, ({ A, B, T0, first, steps, order, ask }) => {
        const at = (T: number) => A + B / (T - T0);
        const temperatures = [T0 + first, T0 + first + steps[0], T0 + first + steps[0] + steps[1]];
        const taken = order.map((k) => ({
          temperature_C: temperatures[k] as number,
          log10_Pa_s: at(temperatures[k] as number),
        }));
        const result = resultOf(viscosity, { points: taken, temperature_C: T0 + ask });
        expect(result.T0_C).toBeCloseTo(T0, 5);
        expect(result.B / B).toBeCloseTo(1, 6);
        expect(Math.abs((result.log10_Pa_s as number) - at(T0 + ask))).toBeLessThan(1e-6 * Math.abs(B / ask));
        const back = resultOf(viscosity, { points: taken, log10_Pa_s: result.log10_Pa_s });
        expect(back.temperature_C).toBeCloseTo(T0 + ask, 6);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it.each([
    [{ points }, '', 'needs exactly one of temperature_C and log10_Pa_s'],
    [{ points, temperature_C: 82 }, 'temperature_C', 'is below T0 + 1 K (82.2903 °C): the formula ends there'],
    [{ points, log10_Pa_s: -4 }, 'log10_Pa_s', 'is at or below A (-3.15484): no temperature makes the glass so thin'],
    [{ points, log10_Pa_s: 1e6 }, 'log10_Pa_s', 'is reached only below 82.2903 °C: the formula ends there'],
    [{ points: points.slice(1), temperature_C: 900 }, 'points', 'needs exactly 3 points'],
    [
      { points: [0, 1, 2].map((k) => ({ temperature_C: 500 + 100 * k, log10_Pa_s: 12 - 3 * k })), temperature_C: 600 },
      'points',
      'lie on a straight line: the curve has no T0',
    ],
    [
      { points: [points[0], points[0], points[2]], temperature_C: 900 },
      'points',
      'must have three different temperatures',
    ],
    [
      { points: points.map((p) => ({ ...p, log10_Pa_s: -p.log10_Pa_s })), temperature_C: 900 },
      'points',
      'must fall in viscosity as the temperature rises',
    ],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(viscosity, input)).toEqual({ path, message });
  });
});
