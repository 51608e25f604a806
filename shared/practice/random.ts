import { sha256Hex } from '../logbook/canonical.ts';

/** Numbers that look random and are the same for the same seed. */
export interface Random {
  /** At least 0 and below 1. */
  uniform(): number;
  between(from: number, to: number): number;
  /** Mean 0 and standard deviation 1, cut off at three of them, so that no reading strays by luck. */
  normal(): number;
}

/**
 * A stream of its own for each name: what one stage draws never moves what another draws.
 * The generator is Mulberry32, 32 bits of state, public domain.
 */
export function randomOf(seed: string, stream: string): Random {
  let state = Number.parseInt(sha256Hex(`${seed}/${stream}`).slice(0, 8), 16);
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const between = (from: number, to: number) => from + (to - from) * uniform();
  // Box and Muller's transform; 1 − u keeps the logarithm finite.
  const plainNormal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, between, normal: () => Math.max(-3, Math.min(3, plainNormal())) };
}
