/** A channel that jumps further than this from what the plan and its neighbours do is asked about (alarm A4). */
export const JUMP_K = 5;
/** How much nearer two swapped digits must bring it. */
const NEARER = 5;

export interface JumpInput {
  /** As typed. */
  readonly text: string;
  /** °C. */
  readonly value: number;
  /** °C in the last round. */
  readonly last: number;
  /** K that the plan moved since. */
  readonly planned_K: number;
  /** K that each neighbour moved since, as far as they were read in this round. */
  readonly neighbours_K: readonly number[];
  /** The typed text in °C, or null where it is none. */
  readonly read: (text: string) => number | null;
}

export interface Jump {
  /** K since the last round. */
  readonly by_K: number;
  /** °C that was to be expected. */
  readonly expected_C: number;
  /** The text with two digits swapped, where that is near what was expected; else null. */
  readonly swapped: string | null;
}

/**
 * A value further from the last one than plan and neighbours explain, or null. A jump that the neighbours follow is the
 * furnace's; one that they do not follow is the sensor's, or the hand's.
 */
export function jumpOf(input: JumpInput): Jump | null {
  const { value, last, planned_K, neighbours_K } = input;
  const by_K = value - last;
  const expected_K = neighbours_K.length > 0 ? median(neighbours_K) : planned_K;
  const far = Math.min(Math.abs(by_K - expected_K), Math.abs(by_K - planned_K));
  if (far <= JUMP_K) return null;
  const expected_C = last + expected_K;
  return { by_K, expected_C, swapped: swappedDigits(input, expected_C) };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = (sorted.length - 1) / 2;
  return (sorted[Math.floor(middle)]! + sorted[Math.ceil(middle)]!) / 2;
}

/** The text with two neighbouring digits swapped that comes nearest to what was expected, if it comes near at all. */
function swappedDigits({ text, value, read }: JumpInput, expected_C: number): string | null {
  const found = [...text].flatMap((_, i) => {
    const pair = /^(\d)([.,]?)(\d)/.exec(text.slice(i));
    if (!pair || pair[1] === pair[3]) return [];
    const swap = `${text.slice(0, i)}${pair[3]}${pair[2]}${pair[1]}${text.slice(i + pair[0].length)}`;
    const swapped_C = read(swap);
    return swapped_C === null ? [] : [{ swap, far: Math.abs(swapped_C - expected_C) }];
  });
  const best = found.sort((a, b) => a.far - b.far)[0];
  const far = Math.abs(value - expected_C);
  return best && best.far <= 2 * JUMP_K && best.far * NEARER <= far ? best.swap : null;
}
