import { describe, expect, it } from 'vitest';
import { randomOf } from '../../shared/practice/random.ts';

const draw = (seed: string, stream: string, count: number): number[] => {
  const random = randomOf(seed, stream);
  return Array.from({ length: count }, () => random.uniform());
};

describe('the seeded random numbers', () => {
  it('are the same for the same seed and stream, and others for others', () => {
    expect(draw('a', 's', 20)).toEqual(draw('a', 's', 20));
    expect(draw('a', 's', 20)).not.toEqual(draw('b', 's', 20));
    expect(draw('a', 's', 20)).not.toEqual(draw('a', 't', 20));
  });

  it('spread evenly over 0 to 1', () => {
    const drawn = draw('a', 's', 20_000);
    expect(drawn.every((x) => x >= 0 && x < 1)).toBe(true);
    const tenths = Array.from({ length: 10 }, (_, n) => drawn.filter((x) => Math.floor(10 * x) === n).length);
    // Chi-squared with 9 degrees of freedom passes 27.88 once in a thousand (NIST/SEMATECH e-Handbook, 1.3.6.7.4).
    expect(tenths.reduce((sum, n) => sum + (n - 2000) ** 2 / 2000, 0)).toBeLessThan(27.88);
  });

  it('come normal: mean 0, deviation 1, 68.27 % within one, none beyond three', () => {
    const random = randomOf('a', 'n');
    const drawn = Array.from({ length: 20_000 }, () => random.normal());
    const mean = drawn.reduce((a, b) => a + b, 0) / drawn.length;
    expect(Math.abs(mean)).toBeLessThan(0.03);
    const deviation = Math.sqrt(drawn.reduce((sum, x) => sum + (x - mean) ** 2, 0) / drawn.length);
    expect(Math.abs(deviation - 1)).toBeLessThan(0.03);
    // Share of a normal distribution within one standard deviation (JCGM 100:2008, table G.1).
    expect(Math.abs(drawn.filter((x) => Math.abs(x) <= 1).length / drawn.length - 0.6827)).toBeLessThan(0.015);
    expect(drawn.every((x) => Math.abs(x) <= 3)).toBe(true);
  });
});
