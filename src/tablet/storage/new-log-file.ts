import Dexie from 'dexie';

const NAME = 'passing';

/**
 * Makes the browser begin a new log file under its databases. Chromium keeps IndexedDB in LevelDB, which after a crash
 * goes on in the file that the crash tore, if it tore it; what comes behind the torn place makes a later start take all
 * databases for broken, and Chromium then throws them away. When a database is deleted, however small, LevelDB puts what
 * the log file holds into a table and gives the file up. Other browsers lose nothing by it.
 */
export async function beginNewLogFile(): Promise<void> {
  const passing = new Dexie(NAME);
  passing.version(1).stores({ rows: 'id' });
  await passing.open();
  await passing.delete();
}
