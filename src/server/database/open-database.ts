import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import {
  CompiledQuery,
  type DatabaseConnection,
  type Driver,
  Kysely,
  PostgresDialect,
  SqliteDialect,
  SqliteDriver,
  type TransactionSettings,
} from 'kysely';
import pg from 'pg';
import type { Settings } from '../settings.ts';
import { migrate } from './migrations.ts';
import type { Tables } from './schema.ts';

export type Engine = 'sqlite' | 'postgres';

/** The database of one server process, ready for use. */
export interface Database {
  readonly db: Kysely<Tables>;
  readonly engine: Engine;
  close(): Promise<void>;
}

/** The name of the embedded database in the data folder. */
export const DATABASE_FILE = 'lehrbook.sqlite';

/** How long a write waits for another process (a backup, a command) to finish, in ms. */
const BUSY_WAIT = 10_000;

/**
 * Opens PostgreSQL when the settings name one, else the SQLite of the data folder, and brings its tables up to this
 * build.
 * @throws {Error} when it cannot be opened or a newer build has used it
 */
export async function openDatabase(
  settings: Pick<Settings, 'dataFolder' | 'databaseUrl' | 'databaseConnections'>,
): Promise<Database> {
  const database = settings.databaseUrl === null ? openSqlite(settings.dataFolder) : openPostgres(settings);
  try {
    await migrate(database.db, database.engine);
  } catch (error) {
    await database.close();
    throw error;
  }
  return database;
}

function openSqlite(folder: string): Database {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const file = new Sqlite(join(folder, DATABASE_FILE), { timeout: BUSY_WAIT });
  file.pragma('journal_mode = WAL');
  // An acknowledged entry has reached the disk, power cut or not.
  file.pragma('synchronous = FULL');
  file.pragma('foreign_keys = ON');
  const db = new Kysely<Tables>({ dialect: new WritingSqliteDialect({ database: file }) });
  return { db, engine: 'sqlite', close: () => db.destroy() };
}

function openPostgres(settings: Pick<Settings, 'databaseUrl' | 'databaseConnections'>): Database {
  const pool = new pg.Pool({
    connectionString: settings.databaseUrl!,
    max: settings.databaseConnections,
    application_name: 'lehrbook',
    // Counts and times of ours stay far below 2^53: they are numbers here, as they are from SQLite.
    types: { getTypeParser: (oid, format) => (oid === INT8 ? Number : pg.types.getTypeParser(oid, format)) },
  });
  // A connection that breaks tells twice: whoever asks over it is refused, and it raises an event, which would end the
  // process if nobody listened. The pool makes a new one by itself.
  pool.on('error', () => {});
  pool.on('connect', (client) => client.on('error', () => {}));
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
  return { db, engine: 'postgres', close: () => db.destroy() };
}

const INT8 = 20;

/**
 * Takes the write lock when a transaction begins: one that reads first could not be let in later. One that only reads
 * holds nobody up.
 */
class ImmediateSqliteDriver extends SqliteDriver {
  override async beginTransaction(connection: DatabaseConnection, settings?: TransactionSettings): Promise<void> {
    const begin = settings?.accessMode === 'read only' ? 'begin' : 'begin immediate';
    await connection.executeQuery(CompiledQuery.raw(begin));
  }
}

class WritingSqliteDialect extends SqliteDialect {
  constructor(private readonly config: { database: Sqlite.Database }) {
    super(config);
  }

  override createDriver(): Driver {
    return new ImmediateSqliteDriver(this.config);
  }
}
