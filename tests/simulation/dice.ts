import { randomOf } from '../../shared/practice/random.ts';

/** Every chance of a simulated world comes from here, and so from its one number. */
export class Dice {
  private readonly random: ReturnType<typeof randomOf>;

  constructor(seed: number, stream: string) {
    this.random = randomOf(String(seed), stream);
  }

  readonly uniform = (): number => this.random.uniform();

  chance(share: number): boolean {
    return share > 0 && this.random.uniform() < share;
  }

  /** A whole number from `from` to `to`, both possible. */
  whole(from: number, to: number): number {
    return from + Math.floor(this.random.uniform() * (to - from + 1));
  }

  /** Mostly short, sometimes long: what waiting times look like. */
  around(mean: number): number {
    return -mean * Math.log(1 - this.random.uniform());
  }

  pick<T>(list: readonly T[]): T {
    return list[Math.floor(this.random.uniform() * list.length)]!;
  }

  /** Zero in half of the worlds; else something up to `most`: each world has its own mixture of troubles. */
  rate(most: number): number {
    return this.chance(0.5) ? 0 : most * this.random.uniform() ** 2;
  }
}
