import type { Samples } from './taking.ts';

/** So many buckets of one level make one of the next. */
export const FACTOR = 8;
/** Coarser levels than this few buckets draw nothing faster. */
const FEWEST = 200;
/** A silence of so many usual steps is a gap in the line. */
const GAP_STEPS = 10;

/** A level of thinned samples: what each bucket of time holds at least and at most. Level 0 is the samples themselves. */
export interface LevelTimes {
  /** First and last instant of each bucket, ms; the same array at level 0. */
  readonly from: Float64Array<ArrayBuffer>;
  readonly to: Float64Array<ArrayBuffer>;
}

export interface LevelValues {
  /** NaN where the bucket holds no value. */
  readonly least: Float32Array<ArrayBuffer>;
  readonly greatest: Float32Array<ArrayBuffer>;
}

export interface Pyramid {
  /** The silence, ms, that is a gap. */
  readonly gap_ms: number;
  readonly levels: readonly LevelTimes[];
  readonly channels: readonly { readonly channel: string; readonly levels: readonly LevelValues[] }[];
}

/** Thins samples level by level; extremes are never lost, and no bucket spans a gap. */
export function pyramidOf({ times, channels }: Samples): Pyramid {
  const gap_ms = gapOf(times);
  const levels: LevelTimes[] = [{ from: times, to: times }];
  /** Where each bucket of a level begins in the level below. */
  const starts: Uint32Array[] = [];
  while (levels.at(-1)!.from.length > FEWEST) {
    const below = levels.at(-1)!;
    const next = bucketStarts(below, gap_ms);
    if (next.length > below.from.length * 0.7) break;
    starts.push(next);
    levels.push(timesOf(below, next));
  }
  return {
    gap_ms,
    levels,
    channels: channels.map(({ channel, values }) => {
      const own: LevelValues[] = [{ least: values, greatest: values }];
      for (const next of starts) own.push(thinned(own.at(-1)!, next));
      return { channel, levels: own };
    }),
  };
}

/** The silence that is a gap: ten times the usual step. */
export function gapOf(times: Float64Array): number {
  const steps = new Float64Array(Math.max(0, times.length - 1));
  for (let i = 0; i < steps.length; i++) steps[i] = times[i + 1]! - times[i]!;
  steps.sort();
  return GAP_STEPS * (steps[Math.floor(steps.length / 2)] ?? Number.POSITIVE_INFINITY);
}

function bucketStarts({ from, to }: LevelTimes, gap_ms: number): Uint32Array {
  const starts: number[] = [];
  for (let i = 0, inBucket = FACTOR; i < from.length; i++, inBucket++) {
    if (inBucket < FACTOR && from[i]! - to[i - 1]! <= gap_ms) continue;
    starts.push(i);
    inBucket = 0;
  }
  return Uint32Array.from(starts);
}

function timesOf(below: LevelTimes, starts: Uint32Array): LevelTimes {
  const from = new Float64Array(starts.length);
  const to = new Float64Array(starts.length);
  starts.forEach((start, i) => {
    from[i] = below.from[start]!;
    to[i] = below.to[(starts[i + 1] ?? below.to.length) - 1]!;
  });
  return { from, to };
}

function thinned(below: LevelValues, starts: Uint32Array): LevelValues {
  const least = new Float32Array(starts.length).fill(Number.NaN);
  const greatest = new Float32Array(starts.length).fill(Number.NaN);
  starts.forEach((start, bucket) => {
    const end = starts[bucket + 1] ?? below.least.length;
    for (let i = start; i < end; i++) {
      // A NaN compares false and stays out; the first value takes the place of the bucket's own NaN.
      if (!(below.least[i]! >= least[bucket]!) && !Number.isNaN(below.least[i]!)) least[bucket] = below.least[i]!;
      if (!(below.greatest[i]! <= greatest[bucket]!) && !Number.isNaN(below.greatest[i]!))
        greatest[bucket] = below.greatest[i]!;
    }
  });
  return { least, greatest };
}
