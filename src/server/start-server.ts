import { readFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';
import { anyAdmission, makeCode } from './access.ts';
import { buildServer } from './build-server.ts';
import { type Database, openDatabase } from './database/open-database.ts';
import { SettingError, type Settings } from './settings.ts';

/** A server that listens. */
export interface RunningServer {
  /** Where it is reached from this machine. */
  readonly address: string;
  /** A one-time code while no tablet has joined; null afterwards. */
  readonly firstCode: string | null;
  /** Takes no more requests, answers those under way, closes the database. */
  stop(): Promise<void>;
}

/**
 * Opens the database, serves, and listens.
 * @throws {Error} in words for whoever starts it: what could not be opened, read or listened at
 */
export async function startServer(settings: Settings): Promise<RunningServer> {
  const https = settings.tls && readTls(settings.tls);
  const database = await openDatabase(settings).catch((error: Error) => {
    const where =
      settings.databaseUrl === null ? `the database in ${settings.dataFolder}` : 'the database at DATABASE_URL';
    throw new Error(`Cannot open ${where}: ${error.message || (error as NodeJS.ErrnoException).code}`);
  });
  try {
    const app = await buildServer({ database, settings, ...(https ? { https } : {}) });
    await app.listen({ port: settings.port, host: settings.host });
    const { port } = app.server.address() as AddressInfo;
    return {
      address: `${https ? 'https' : 'http'}://localhost:${port}`,
      firstCode: await firstCode(database, settings),
      stop: () => stop(app, database, settings.shutdownSeconds),
    };
  } catch (error) {
    await database.close();
    throw error;
  }
}

function readTls({ certificate, key }: { certificate: string; key: string }) {
  try {
    return { cert: readFileSync(certificate), key: readFileSync(key) };
  } catch (error) {
    throw new SettingError(`Cannot read the file in TLS_CERTIFICATE or TLS_KEY: ${(error as Error).message}`);
  }
}

async function firstCode({ db }: Database, { codeMinutes }: Settings): Promise<string | null> {
  return (await anyAdmission(db)) ? null : makeCode(db, null, codeMinutes, Date.now());
}

async function stop(app: FastifyInstance, database: Database, seconds: number): Promise<void> {
  // Whoever sends slower than this sends again: nothing of an unfinished request was acknowledged.
  const impatient = setTimeout(() => app.server.closeAllConnections(), seconds * 1000);
  try {
    await app.close();
  } finally {
    clearTimeout(impatient);
    await database.close();
  }
}
