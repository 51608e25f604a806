import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { loadShare } from '../../shared/calculations/load-share.ts';
import { describeOutsideChecks, errorOf, expectRelative, resultOf } from './outside-checks.ts';

const cell = { x_mm: 0, y_mm: 0, load_kN: 1 };
const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const cells = fc.array(fc.record({ x_mm: some(-2000, 2000), y_mm: some(-2000, 2000), load_kN: some(0.01, 5) }), {
  minLength: 1,
  maxLength: 24,
});

describe('load-share', () => {
  describeOutsideChecks(loadShare);

  test('sling factors are 1, 2/√3, √2 and 2 at 90°, 60°, 45° and 30° (1/sin, ASME B30.9 and EN 13414-1, from memory)', () => {
    const factor = (sling_angle_deg: number): number =>
      resultOf(loadShare, { cells: [cell], sling_angle_deg }).sling_factor!;
    expect(factor(90)).toBe(1);
    expect(factor(60)).toBeCloseTo(2 / Math.sqrt(3), 14);
    expect(factor(45)).toBeCloseTo(Math.SQRT2, 14);
    expect(factor(30)).toBeCloseTo(2, 14);
    expect(resultOf(loadShare, { cells: [cell] }).sling_factor).toBeUndefined();
  });

  test('derived figures of the practice blank: 3151 kg on 24 pads', () => {
    const pads = Array.from({ length: 24 }, (_, k) => ({
      x_mm: 1000 * Math.cos((k * Math.PI) / 12),
      y_mm: 1000 * Math.sin((k * Math.PI) / 12),
      load_kN: (3151 * 9.790179) / 24 / 1000,
    }));
    expect(pads[0]!.load_kN).toBeCloseTo(1.285, 3);
    const o = resultOf(loadShare, { cells: pads });
    expect(o.greatest_share).toBeCloseTo(1 / 24, 12);
    expect(Math.hypot(o.centre_x_mm, o.centre_y_mm)).toBeLessThan(1e-9);
  });

  test('refuses flat slings with the rigging caution, and a lift without load', () => {
    const caution =
      'must be 30° to 90° from the horizontal: a flatter sling more than doubles its tension and squeezes the load. Change the rigging';
    expect(errorOf(loadShare, { cells: [cell], sling_angle_deg: 29.9 })).toEqual({
      path: 'sling_angle_deg',
      message: caution,
    });
    expect(errorOf(loadShare, { cells: [cell], sling_angle_deg: 91 }).message).toBe(caution);
    expect(errorOf(loadShare, { cells: [{ ...cell, load_kN: 0 }] })).toEqual({
      path: 'cells',
      message: 'carry no load: there is no centre to find',
    });
    expect(errorOf(loadShare, { cells: [cell, { ...cell, load_kN: -1 }] })).toEqual({
      path: 'cells.1.load_kN',
      message: 'must not be negative: a cell hangs or stands',
    });
    expect(errorOf(loadShare, { cells: [] })).toEqual({ path: 'cells', message: 'needs at least 1' });
  });

  test('moves and turns with the cells, does not care for order or unit of load', () => {
    fc.assert(
      fc.property(cells, some(-1e6, 1e6), some(0, 2 * Math.PI), some(1e-3, 1e3), (given, shift, turn, k) => {
        const o = resultOf(loadShare, { cells: given });
        const near = (a: number, b: number, size = 1): void => expect(Math.abs(a - b)).toBeLessThan(1e-8 * size);
        const moved = resultOf(loadShare, { cells: given.map((c) => ({ ...c, x_mm: c.x_mm + shift })) });
        near(moved.centre_x_mm - shift, o.centre_x_mm, 10);
        const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
        const turned = resultOf(loadShare, {
          cells: given.map((c) => ({ ...c, x_mm: c.x_mm * cos - c.y_mm * sin, y_mm: c.x_mm * sin + c.y_mm * cos })),
        });
        near(turned.centre_x_mm, o.centre_x_mm * cos - o.centre_y_mm * sin);
        near(turned.centre_y_mm, o.centre_x_mm * sin + o.centre_y_mm * cos);
        const other = resultOf(loadShare, { cells: given.toReversed().map((c) => ({ ...c, load_kN: c.load_kN * k })) });
        near(other.centre_x_mm, o.centre_x_mm);
        expectRelative(other.greatest_share, o.greatest_share, 1e-12);
        expectRelative(other.total_kN, o.total_kN * k, 1e-12);
        // The centre lies among the cells that carry it.
        const xs = given.map((c) => c.x_mm);
        expect(o.centre_x_mm).toBeGreaterThanOrEqual(Math.min(...xs) - 1e-9);
        expect(o.centre_x_mm).toBeLessThanOrEqual(Math.max(...xs) + 1e-9);
        expect(o.greatest_share).toBeGreaterThanOrEqual(1 / given.length - 1e-12);
      }),
      { seed: 1, numRuns: 150 },
    );
  });
});
