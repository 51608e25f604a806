import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { slotFill } from '../../shared/calculations/slot-fill.ts';
import { describeOutsideChecks, errorOf, resultOf } from './outside-checks.ts';

const slot = { gap_mm: 12, depth_mm: 333, viscosity_Pa_s: 3720, density_kg_m3: 2230, g_m_s2: 9.790179 };

describeOutsideChecks(slotFill);

/** Time to fill by summing dx over the speed at x, v (x + H)/x, with Simpson's rule. */
function filledByQuadrature(depth: number, head: number, velocity: number): number {
  const n = 2000;
  const term = (x: number) => (x === 0 ? 0 : x / (x + head));
  let sum = 0;
  for (let k = 0; k <= n; k++) sum += (k === 0 || k === n ? 1 : k % 2 === 1 ? 4 : 2) * term((depth * k) / n);
  return (sum * depth) / n / 3 / velocity;
}

describe('slot-fill', () => {
  it('gives the derived figures of the practice blank', () => {
    expect(resultOf(slotFill, slot).mean_velocity_mm_h).toBeCloseTo(253.5, 1);
    expect(resultOf(slotFill, slot).fill_time_h).toBeCloseTo(1.31, 2);
    expect(resultOf(slotFill, { ...slot, head_mm: 50 }).fill_time_h).toBeCloseTo(0.91, 2);
    expect(resultOf(slotFill, { ...slot, head_mm: 100 }).fill_time_h).toBeCloseTo(0.74, 2);
  });

  it('agrees with the integral over the depth for any head', () => {
    const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(within(1, 2000), within(1, 1e5), (depth_mm, head_mm) => {
        const { mean_velocity_mm_h, fill_time_h } = resultOf(slotFill, { ...slot, depth_mm, head_mm });
        expect(fill_time_h / filledByQuadrature(depth_mm, head_mm, mean_velocity_mm_h)).toBeCloseTo(1, 4);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('keeps its digits under a very high head, where half the depth squared over the head is left', () => {
    const { mean_velocity_mm_h, fill_time_h } = resultOf(slotFill, { ...slot, head_mm: 1e12 });
    expect(fill_time_h / (333 ** 2 / 2e12 / mean_velocity_mm_h)).toBeCloseTo(1, 9);
  });

  it('scales with viscosity over density, gravity and the square of the gap', () => {
    const one = resultOf(slotFill, { ...slot, head_mm: 80 });
    const other = resultOf(slotFill, { ...slot, head_mm: 80, gap_mm: 24, viscosity_Pa_s: 4 * 3720 });
    expect(other.fill_time_h / one.fill_time_h).toBeCloseTo(1, 12);
    expect(resultOf(slotFill, { ...slot, g_m_s2: undefined, density_kg_m3: 2230 }).mean_velocity_mm_h).toBeCloseTo(
      (one.mean_velocity_mm_h * 9.80665) / 9.790179,
      9,
    );
  });

  it.each([
    [{ ...slot, gap_mm: 0 }, 'gap_mm', 'must be greater than 0: a gap'],
    [{ ...slot, head_mm: -1 }, 'head_mm', 'must not be negative: glass above the gap'],
    [{ ...slot, viscosity_Pa_s: null }, 'viscosity_Pa_s', 'must be a finite number'],
    [{ ...slot, gap_mm: 1e-200 }, '', 'the glass would move too slowly for a time to be computed'],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(slotFill, input)).toEqual({ path, message });
  });
});
