import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readSettings, type Settings } from '../../src/server/settings.ts';
import { TestPostgres } from './postgres.ts';

/** One of the databases that the server runs on, for suites that must hold on each. */
export interface TestEngine {
  readonly name: string;
  /** Whether several server processes may share one database. */
  readonly shared: boolean;
  /** Once, before the first database. */
  start(): Promise<void>;
  /** The environment of a server with a new, empty database of its own. */
  emptyWorld(): Promise<Record<string, string>>;
  stop(): Promise<void>;
}

class SqliteEngine implements TestEngine {
  readonly name = 'SQLite';
  readonly shared = false;
  private readonly folders: string[] = [];

  async start(): Promise<void> {}

  async emptyWorld(): Promise<Record<string, string>> {
    const folder = mkdtempSync(join(tmpdir(), 'lehrbook-data-'));
    this.folders.push(folder);
    return { DATA_FOLDER: folder };
  }

  async stop(): Promise<void> {
    for (const folder of this.folders) rmSync(folder, { recursive: true, force: true });
  }
}

class PostgresEngine implements TestEngine {
  readonly name = 'PostgreSQL';
  readonly shared = true;
  private server: TestPostgres | null = null;
  private made = 0;

  async start(): Promise<void> {
    this.server = await TestPostgres.start();
  }

  async emptyWorld(): Promise<Record<string, string>> {
    this.made += 1;
    return { DATABASE_URL: await this.server!.database(`world_${this.made}`) };
  }

  async stop(): Promise<void> {
    await this.server?.stop();
  }
}

/** Both, new for each test file. */
export const engines = (): TestEngine[] => [new SqliteEngine(), new PostgresEngine()];

/** The settings of a world, with what the test wants otherwise. */
export const settingsOf = (world: Record<string, string>, other: Record<string, string> = {}): Settings =>
  readSettings({ LOG_LEVEL: 'silent', ...world, ...other });
