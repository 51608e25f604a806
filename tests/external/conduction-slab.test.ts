import erfc from '@stdlib/math-base-special-erfc';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conductionSlab } from '../../shared/calculations/conduction-slab.ts';
import { slabRoot } from '../../shared/calculations/numeric/slab-series.ts';
import { describeOutsideChecks, errorOf, publishedData, resultOf } from './outside-checks.ts';

const theta = (biot: number | null, fourier: number, position: number) =>
  resultOf(conductionSlab, { biot, fourier, position }).theta;

describeOutsideChecks(conductionSlab);

const roots = publishedData<{ rows: { biot: number; roots: number[] }[] }>('conduction-slab-roots');

describe('conduction-slab', () => {
  // Essentials of Applied Mathematics for Scientists and Engineers, table A.1.
  it.each(roots.rows)('has the published first six roots for Bi $biot', ({ biot, roots: published }) => {
    published.forEach((root, n) => {
      expect(Math.abs(slabRoot(biot, n) - root)).toBeLessThan(6e-5);
    });
  });

  it('has roots that satisfy their equation, for the least and the greatest Biot numbers', () => {
    for (const biot of [1e-300, 1e-12, 1e-3, 1, 50, 1e6, 1e300]) {
      for (let n = 0; n < 400; n += n < 5 ? 1 : 37) {
        const z = slabRoot(biot, n);
        expect(z).toBeGreaterThanOrEqual(n * Math.PI);
        expect(z).toBeLessThanOrEqual((n + 0.5) * Math.PI * (1 + 1e-15));
        // As an angle: tan z = Bi / z.
        const off = Math.sin(z - n * Math.PI - Math.atan2(biot, z));
        expect(Math.abs(off)).toBeLessThan(1e-12 * Math.max(1, n));
      }
    }
  });

  it('agrees near a fixed surface at short times with the error function (Carslaw and Jaeger 2.4)', () => {
    for (const fourier of [1e-5, 3e-5, 1e-4, 1e-3, 0.01]) {
      for (const depth of [0, 0.5, 1, 2, 3]) {
        const x = depth * 2 * Math.sqrt(fourier);
        expect(Math.abs(theta(null, fourier, 1 - x) - (1 - erfc(depth)))).toBeLessThan(1e-9);
      }
    }
  });

  it('agrees with the semi-infinite body with a film at short times (Carslaw and Jaeger 2.7)', () => {
    for (const fourier of [1e-5, 1e-4, 1e-3]) {
      for (const biot of [0.1, 1, 10, 100]) {
        const h = biot * Math.sqrt(fourier);
        const surface = Math.exp(h * h) * erfc(h);
        expect(Math.abs(theta(biot, fourier, 1) - surface)).toBeLessThan(1e-9);
      }
    }
  });

  it('lies between 0 and 1, falls with time and towards the surface', () => {
    const any = fc.record({
      biot: fc.option(fc.double({ min: 0, max: 1e4, noNaN: true })),
      fourier: fc.double({ min: 1e-5, max: 5, noNaN: true }),
      later: fc.double({ min: 1, max: 3, noNaN: true }),
      position: fc.double({ min: 0, max: 1, noNaN: true }),
      outer: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(any, ({ biot, fourier, later, position, outer }) => {
        const here = theta(biot, fourier, position);
        expect(here).toBeGreaterThan(-1e-9);
        expect(here).toBeLessThan(1 + 1e-9);
        expect(theta(biot, fourier * later, position)).toBeLessThan(here + 1e-9);
        expect(theta(biot, fourier, position + (1 - position) * outer)).toBeLessThan(here + 1e-9);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it('takes a Biot number that is left out for an infinite one', () => {
    expect(resultOf(conductionSlab, { fourier: 0.2, position: 0 }).theta).toBe(theta(null, 0.2, 0));
  });

  it('gives 1 at the start and without a film, and 0 at a fixed surface', () => {
    expect(theta(5, 0, 1)).toBe(1);
    expect(theta(0, 100, 1)).toBe(1);
    expect(theta(null, 1e-5, 1)).toBe(0);
  });

  it('gives the derived figure of the practice blank: a slowest time constant of 7.7 h', () => {
    const hours = 202.5 ** 2 / 0.6 / 3600 / slabRoot(null, 0) ** 2;
    expect(hours).toBeCloseTo(7.7, 1);
  });

  it.each([
    [{ biot: -1, fourier: 1, position: 0 }, 'biot', 'must not be negative: h L / k'],
    [{ biot: 1, fourier: 1e-6, position: 0 }, 'fourier', 'must be 0, or at least 0.00001'],
    [{ biot: 1, fourier: 1, position: 1.5 }, 'position', 'must be at most 1: the surface'],
    [{ biot: 1, position: 1 }, 'fourier', 'is missing'],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(conductionSlab, input)).toEqual({ path, message });
  });
});
