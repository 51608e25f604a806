/** Entries of one batch that a tablet sends or saves, at most. */
export const BATCH_ENTRIES = 1_000;

/** UTF-16 units of text of such a batch; a single longer entry makes a batch of its own. */
export const BATCH_LENGTH = 2_000_000;

/**
 * Entries that a tablet asks for at a time, and that a server keeps ready as a page: while some are being checked others
 * are on their way, and storing has a cost of its own each time.
 */
export const PULL_ENTRIES = 1_000;

/** Branches of one chain that a message may name. */
export const BRANCHES_MAX = 100;

/** A request without an answer for so long counts as lost. */
export const ANSWER_WITHIN_ms = 60_000;

/** Waits after failures: drawn at random below a bound that doubles from the first of these to the second. */
export const FIRST_WAIT_ms = 2_000;
export const LONGEST_WAIT_ms = 300_000;
