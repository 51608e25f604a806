import { RefusedInput } from '../calculation.ts';

/**
 * How long a length of 1 at 20 °C is at another temperature: 1 + α (T − 20), α the mean expansion in 1/K.
 *
 * @throws {RefusedInput} at `path` when nothing of the part would be left.
 */
export function expansionFactor(expansion_per_K: number, temperature_C: number, path: string, part: string): number {
  const factor = 1 + expansion_per_K * (temperature_C - 20);
  if (factor <= 0) throw new RefusedInput(path, `is so far from 20 °C that the ${part} would have no length`);
  return factor;
}
