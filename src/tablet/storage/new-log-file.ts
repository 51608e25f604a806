import Dexie from 'dexie';

const NAME = 'passing';
/** Whoever saves waits no longer: another window may hold the empty database for a while. */
const LONGEST_MS = 1_000;

/**
 * Makes the browser begin a new log file under its databases. Chromium keeps IndexedDB in LevelDB, which after a crash
 * goes on in the file that the crash tore, if it tore it; what comes behind the torn place makes a later start take all
 * databases for broken, and Chromium then throws them away. When a database is deleted, however small, LevelDB puts what
 * the log file holds into a table and gives the file up. Other browsers lose nothing by it.
 */
export function beginNewLogFile(): Promise<void> {
  return Promise.race([passed(), new Promise<void>((resolve) => setTimeout(resolve, LONGEST_MS))]);
}

async function passed(): Promise<void> {
  const passing = new Dexie(NAME);
  passing.version(1).stores({ rows: 'id' });
  await passing.open();
  await passing.delete();
}
