import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { loadBalance } from '../../shared/calculations/load-balance.ts';
import { describeOutsideChecks, errorOf, expectRelative, resultOf, workingOf } from './outside-checks.ts';

const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const blocks = fc.array(fc.record({ mass_kg: some(0.1, 60), distance_mm: some(0, 1600), angle_deg: some(-720, 720) }), {
  minLength: 1,
  maxLength: 60,
});

describe('load-balance', () => {
  describeOutsideChecks(loadBalance);

  test.each([2, 3, 4, 5, 6, 8, 12, 24])('%d equal blocks evenly round the axis have no heavy side (symmetry)', (n) => {
    const ring = Array.from({ length: n }, (_, k) => ({
      mass_kg: 20,
      distance_mm: 1500,
      angle_deg: 17 + (360 * k) / n,
    }));
    const o = resultOf(loadBalance, { blocks: ring });
    expect(o.unbalance_kg_mm).toBeLessThan(1e-9);
    expect(o.unbalance_angle_deg).toBeNull();
    expect(o.total_kg).toBe(20 * n);
  });

  test('a block on the axis has no direction; 360° is 0° and −90° is 270°', () => {
    const one = (distance_mm: number, angle_deg: number) =>
      resultOf(loadBalance, { blocks: [{ mass_kg: 10, distance_mm, angle_deg }] });
    expect(one(0, 45)).toEqual({
      total_kg: 10,
      unbalance_kg_mm: 0,
      unbalance_angle_deg: null,
      centre_offset_mm: 0,
    });
    expect(one(100, 360).unbalance_angle_deg).toBe(0);
    expect(one(100, -90).unbalance_angle_deg).toBe(270);
    expect(one(100, -1e-300).unbalance_angle_deg).toBe(0);
  });

  test('refuses what is no load', () => {
    expect(errorOf(loadBalance, { blocks: [] })).toEqual({ path: 'blocks', message: 'needs at least 1' });
    expect(errorOf(loadBalance, { blocks: [{ mass_kg: 0, distance_mm: 1, angle_deg: 0 }] })).toEqual({
      path: 'blocks.0.mass_kg',
      message: 'must be greater than 0: a mass',
    });
    expect(
      errorOf(loadBalance, {
        blocks: [
          { mass_kg: 1, distance_mm: 1, angle_deg: 0 },
          { mass_kg: 1, distance_mm: -1, angle_deg: 0 },
        ],
      }),
    ).toEqual({ path: 'blocks.1.distance_mm', message: 'must not be negative: a distance' });
    expect(errorOf(loadBalance, { blocks: [{ mass_kg: 1e300, distance_mm: 1e300, angle_deg: 0 }] }).message).toBe(
      'these numbers lead outside what can be computed',
    );
  });

  test('does not care for the order, turns with the table, and goes with mass', () => {
    fc.assert(
      fc.property(blocks, some(0, 360), some(0.1, 10), (load, turn, k) => {
        const o = resultOf(loadBalance, { blocks: load });
        const reversed = resultOf(loadBalance, { blocks: load.toReversed() });
        expectRelative(reversed.unbalance_kg_mm + 1, o.unbalance_kg_mm + 1, 1e-9);
        const turned = resultOf(loadBalance, { blocks: load.map((b) => ({ ...b, angle_deg: b.angle_deg + turn })) });
        expectRelative(turned.unbalance_kg_mm + 1, o.unbalance_kg_mm + 1, 1e-8);
        const heavier = resultOf(loadBalance, { blocks: load.map((b) => ({ ...b, mass_kg: b.mass_kg * k })) });
        expectRelative(heavier.centre_offset_mm + 1, o.centre_offset_mm + 1, 1e-9);
        if (o.unbalance_angle_deg === null || o.unbalance_kg_mm < 1) return;
        const apart = (turned.unbalance_angle_deg! - o.unbalance_angle_deg - turn) / 360;
        expect(Math.abs(apart - Math.round(apart))).toBeLessThan(1e-8);
        // A block of the same moment on the light side brings it to rest.
        const opposite = { mass_kg: 1, distance_mm: o.unbalance_kg_mm, angle_deg: o.unbalance_angle_deg + 180 };
        expect(resultOf(loadBalance, { blocks: [...load, opposite] }).unbalance_kg_mm).toBeLessThan(1e-8);
      }),
      { seed: 1, numRuns: 150 },
    );
  });

  test('the working holds a line for each block', () => {
    const load = [1, 2, 3].map((mass_kg) => ({ mass_kg, distance_mm: 10, angle_deg: 0 }));
    const moments = workingOf(loadBalance, { blocks: load }).filter((line) => /^U_\d/.test(line.symbol));
    expect(moments.map((line) => line.value)).toEqual([10, 20, 30]);
  });
});
