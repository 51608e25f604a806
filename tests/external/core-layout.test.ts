import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { coreLayout } from '../../shared/calculations/core-layout.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

const practice = { blank_diameter_mm: 3200, pitch_mm: 180, gap_mm: 12, edge_margin_mm: 25 };

type Point = [number, number];

/** Corners of a hexagon with a flat facing +x, by angle. */
const corners = (x: number, y: number, across: number): Point[] =>
  Array.from({ length: 6 }, (_, k) => {
    const angle = ((30 + 60 * k) * Math.PI) / 180;
    return [x + (across / Math.sqrt(3)) * Math.cos(angle), y + (across / Math.sqrt(3)) * Math.sin(angle)];
  });

/** Distance of the origin from a hexagon, by its six half-planes and by stepping along its edges. */
function nearest(x: number, y: number, across: number): number {
  const inside = Array.from({ length: 6 }, (_, k) => {
    const angle = (60 * k * Math.PI) / 180;
    return -(x * Math.cos(angle) + y * Math.sin(angle)) <= across / 2;
  }).every(Boolean);
  if (inside) return 0;
  const c = corners(x, y, across);
  return Math.min(
    ...c.map((a, k) => {
      const b = c[(k + 1) % 6]!;
      // Golden section on a convex function.
      let low = 0;
      let high = 1;
      const at = (t: number): number => Math.hypot(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]));
      for (let n = 0; n < 60; n++) {
        const third = (high - low) / 3;
        if (at(low + third) < at(high - third)) high -= third;
        else low += third;
      }
      return at((low + high) / 2);
    }),
  );
}

/** Counts over a generous patch of the lattice, without symmetry. */
function bruteForce(d: number, p: number, g: number, margin: number): { whole: number; cut: number } {
  const limit = d / 2 - margin;
  const reach = Math.ceil(d / p) + 2;
  let whole = 0;
  let cut = 0;
  for (let q = -2 * reach; q <= 2 * reach; q++) {
    for (let r = -reach; r <= reach; r++) {
      const x = p * (q + r / 2);
      const y = (p * r * Math.sqrt(3)) / 2;
      if (Math.hypot(x, y) - p > limit) continue;
      if (corners(x, y, p - g).every(([cx, cy]) => Math.hypot(cx, cy) <= limit + 1e-9)) whole++;
      else if (nearest(x, y, p - g) < limit) cut++;
    }
  }
  return { whole, cut };
}

describe('core-layout', () => {
  describeOutsideChecks(coreLayout);

  test.each([
    [0, 1],
    [1, 7],
    [3, 13],
    [4, 19],
    [7, 31],
    [9, 37],
    [12, 43],
    [13, 55],
    [16, 61],
    [19, 73],
    [21, 85],
    [25, 91],
    [27, 97],
    [28, 109],
    [31, 121],
    [36, 127],
  ])(
    'cores as points within √%d pitches: %d (theta series of the hexagonal lattice, OEIS A004016, from memory)',
    (norm, count) => {
      const pitch = 100;
      const input = { blank_diameter_mm: 2 * pitch * Math.sqrt(norm) + 0.01, pitch_mm: pitch, gap_mm: pitch - 1e-4 };
      expect(resultOf(coreLayout, input).count).toBe(count);
    },
  );

  test.each([1, 2, 5, 10, 18, 23])(
    '%d complete rings hold 1 + 3k(k + 1) cores (centred hexagonal numbers, OEIS A003215)',
    (k) => {
      const input = { blank_diameter_mm: 4000, pitch_mm: 60, gap_mm: 2, list: true };
      const { positions } = resultOf(coreLayout, input);
      const ring = (address: string): number => Number(address.split('.')[0]);
      expect(positions!.filter((p) => ring(p.address) <= k)).toHaveLength(1 + 3 * k * (k + 1));
    },
  );

  test('the corner core of ring 18, 58 across flats at 60 pitch, reaches to 1109.12638293989 mm (evaluated independently)', () => {
    const at = (diameter: number): number =>
      resultOf(coreLayout, { blank_diameter_mm: diameter, pitch_mm: 60, gap_mm: 2 }).outermost_corner_mm!;
    expect(at(2 * 1109.12638293989)).toBeCloseTo(1109.12638293989, 9);
    expect(at(2 * 1109.12638293989 - 1e-6)).toBeLessThan(1109.126);
  });

  test('derived figures of the practice blank', () => {
    const o = resultOf(coreLayout, practice);
    expect(o).toMatchObject({ whole_count: 253, cut_count: 60, count: 253 });
    expect(o.rib_fraction).toBeCloseTo(0.12889, 5);
    expect(o.outermost_corner_mm).toBeCloseTo(1566.0, 1);
    expect(resultOf(coreLayout, { ...practice, edge_margin_mm: 20 }).count).toBe(253);
    expect(resultOf(coreLayout, { ...practice, edge_margin_mm: 30 }).count).toBe(253);
    expect(resultOf(coreLayout, { ...practice, edge_margin_mm: 40 }).count).toBe(241);
  });

  test('addresses run ring by ring, counter-clockwise from +x', () => {
    const { positions } = resultOf(coreLayout, { ...practice, list: true });
    expect(positions).toHaveLength(313);
    expect(positions![0]).toEqual({ address: '0.1', x_mm: 0, y_mm: 0, whole: true });
    const ringTwo = positions!.filter((p) => p.address.startsWith('2.'));
    expect(ringTwo.map((p) => p.address)).toEqual(Array.from({ length: 12 }, (_, k) => `2.${k + 1}`));
    const angles = ringTwo.map((p) => (Math.atan2(p.y_mm, p.x_mm) * 180) / Math.PI);
    ringTwo.forEach((_, k) => {
      expect((angles[k]! + 360) % 360).toBeCloseTo(30 * k, 9);
    });
    expect(ringTwo[0]).toEqual({ address: '2.1', x_mm: 360, y_mm: 0, whole: true });
    expect(new Set(positions!.map((p) => p.address)).size).toBe(313);
  });

  test('a corner on the circle counts as inside, one a hundredth of a micrometre out does not', () => {
    const across = 168;
    const corner = Math.hypot(180 + across / 2, across / Math.sqrt(12));
    const count = (limit: number): number =>
      resultOf(coreLayout, { blank_diameter_mm: 2 * limit, pitch_mm: 180, gap_mm: 12 }).whole_count;
    expect(count(corner)).toBe(7);
    expect(count(corner - 5e-10)).toBe(7);
    expect(count(corner - 1e-8)).toBe(1);
  });

  test('refuses what holds no cores', () => {
    expect(errorOf(coreLayout, { ...practice, gap_mm: 180 })).toEqual({
      path: 'gap_mm',
      message: 'must be less than the pitch',
    });
    expect(errorOf(coreLayout, { ...practice, gap_mm: 0 })).toEqual({
      path: 'gap_mm',
      message: 'must be greater than 0: a gap',
    });
    expect(errorOf(coreLayout, { ...practice, edge_margin_mm: 1600 })).toEqual({
      path: 'edge_margin_mm',
      message: 'must be less than half the diameter',
    });
    expect(errorOf(coreLayout, { ...practice, pitch_mm: 1e-3, gap_mm: 1e-4 })).toEqual({
      path: 'pitch_mm',
      message: 'is so small that it asks for more than 500 rings of cores',
    });
    expect(errorOf(coreLayout, { ...practice, list: 1 }).message).toBe('must be a boolean');
  });

  test('agrees with a count over the whole lattice, and with the area in the large', () => {
    const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(some(300, 3000), some(60, 250), some(0.01, 0.9), some(0, 0.3), (d, p, share, m) => {
        const input = { blank_diameter_mm: d, pitch_mm: p, gap_mm: p * share, edge_margin_mm: m * d };
        const o = resultOf(coreLayout, { ...input, list: true });
        expect({ whole: o.whole_count, cut: o.cut_count }).toEqual(bruteForce(d, p, p * share, m * d));
        expect(o.positions!.filter((c) => c.whole)).toHaveLength(o.whole_count);
        expect(o.positions).toHaveLength(o.whole_count + o.cut_count);
      }),
      { seed: 1, numRuns: 60 },
    );
    const large = resultOf(coreLayout, { blank_diameter_mm: 20_000, pitch_mm: 50, gap_mm: 1e-6 });
    const cells = (Math.PI * 10_000 ** 2) / ((Math.sqrt(3) / 2) * 50 ** 2);
    expect(large.whole_count).toBeLessThan(cells);
    expect(large.whole_count + large.cut_count).toBeGreaterThan(cells);
  });

  test('is the same in inches', () => {
    const inches = {
      blank_diameter_mm: 3200 / 25.4,
      pitch_mm: 180 / 25.4,
      gap_mm: 12 / 25.4,
      edge_margin_mm: 25 / 25.4,
    };
    expect(resultOf(coreLayout, inches)).toMatchObject({ whole_count: 253, cut_count: 60 });
  });
});
