import type { Dice } from './dice.ts';

/** What goes wrong in one world, and how often. Shares are of messages; the others are of a minute of virtual time. */
export interface Troubles {
  readonly loss: number;
  /** Answers that alone are lost, after the server did its work. */
  readonly lostAnswers: number;
  readonly doubling: number;
  /** A digit of a batch that changes on the way. */
  readonly corruption: number;
  /** Mean time of a message on its way; the spread is as large, so that messages overtake one another. */
  readonly delay_ms: number;
  readonly tabletCrashes: number;
  readonly serverCrashes: number;
  readonly cuts: number;
  readonly fullDisks: number;
  readonly fullServer: number;
  readonly backups: number;
  readonly serverRestores: number;
  readonly tabletRestores: number;
  readonly clones: number;
  /** A tablet whose clock jumps or that sleeps: its alarms come early or hours late. */
  readonly clockJumps: number;
  /** Entries carried from tablet to tablet by file. */
  readonly carrying: number;
}

export const drawTroubles = (dice: Dice): Troubles => ({
  loss: dice.rate(0.3),
  lostAnswers: dice.rate(0.3),
  doubling: dice.rate(0.3),
  corruption: dice.rate(0.1),
  delay_ms: dice.pick([5, 50, 500, 5000]),
  tabletCrashes: dice.rate(2),
  serverCrashes: dice.rate(2),
  cuts: dice.rate(2),
  fullDisks: dice.rate(1),
  fullServer: dice.rate(1),
  backups: dice.rate(2),
  serverRestores: dice.rate(0.4),
  tabletRestores: dice.rate(0.4),
  clones: dice.rate(0.3),
  clockJumps: dice.rate(2),
  carrying: dice.rate(1),
});

export const noTroubles: Troubles = {
  loss: 0,
  lostAnswers: 0,
  doubling: 0,
  corruption: 0,
  delay_ms: 20,
  tabletCrashes: 0,
  serverCrashes: 0,
  cuts: 0,
  fullDisks: 0,
  fullServer: 0,
  backups: 0,
  serverRestores: 0,
  tabletRestores: 0,
  clones: 0,
  clockJumps: 0,
  carrying: 0,
};
