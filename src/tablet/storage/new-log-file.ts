import type { CastingDatabase } from './database.ts';

/** Below the size from which Chromium keeps a value in a file of its own; together more than LevelDB keeps in one log file. */
const ROW_BYTES = 48_000;
const ROWS = 100;
const ROWS_AT_ONCE = 10;

/**
 * Makes the browser begin a new log file under its database. Chromium keeps IndexedDB in LevelDB, which after a crash
 * goes on in the file that the crash tore, if it tore it; what comes behind the torn place makes a later start take the
 * whole database for broken, and Chromium then throws it away. So bytes are written and taken away again until the file
 * is full and given up. Other browsers lose nothing by it.
 */
export async function beginNewLogFile({ ballast }: CastingDatabase): Promise<void> {
  const filler = Array.from({ length: ROWS }, (_, n) => `filler ${n}`);
  // Random bytes cannot be packed smaller on the way.
  const bytes = crypto.getRandomValues(new Uint8Array(ROW_BYTES));
  try {
    for (let from = 0; from < ROWS; from += ROWS_AT_ONCE)
      await ballast.bulkPut(filler.slice(from, from + ROWS_AT_ONCE).map((id) => ({ id, bytes })));
  } finally {
    await ballast.bulkDelete(filler);
  }
}
