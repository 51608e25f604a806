/**
 * A hybrid logical clock: wall milliseconds and a counter. It orders entries for display; no certificate rests on it.
 * After Kulkarni et al., "Logical Physical Clocks" (2014).
 */
export type Clock = readonly [ms: number, counter: number];

/** A received clock further ahead of the wall than this is not adopted. */
export const CLOCK_AHEAD_MS = 10 * 60_000;

/** The clock of a new entry, never behind the last one. */
export const tick = (last: Clock, wall_ms: number): Clock =>
  wall_ms > last[0] ? [wall_ms, 0] : [last[0], last[1] + 1];

/** The clock after an entry was received: the later of the two, unless the other runs too far ahead of the wall. */
export const adopt = (last: Clock, received: Clock, wall_ms: number): Clock =>
  runsAhead(received, wall_ms) || compareClocks(last, received) >= 0 ? last : received;

export const runsAhead = (clock: Clock, wall_ms: number): boolean => clock[0] > wall_ms + CLOCK_AHEAD_MS;

export const compareClocks = (a: Clock, b: Clock): number => a[0] - b[0] || a[1] - b[1];
