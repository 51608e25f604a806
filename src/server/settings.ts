import { fileURLToPath } from 'node:url';

/** The named settings of the server, each read from the environment variable of its name. */
export interface Settings {
  readonly port: number;
  readonly host: string;
  /** Where the embedded database lies. */
  readonly dataFolder: string;
  /** A PostgreSQL address; null for the embedded SQLite. */
  readonly databaseUrl: string | null;
  /** Connections that one process keeps to PostgreSQL. */
  readonly databaseConnections: number;
  /** The server's own certificate and key, files in PEM; null for plain HTTP (this machine alone, or behind a proxy). */
  readonly tls: { readonly certificate: string; readonly key: string } | null;
  /** Addresses of proxies whose word about the caller's address and scheme is believed, by comma; null for none. */
  readonly trustedProxies: string | null;
  /** Bytes of one request's body, as sent. */
  readonly maxBodyBytes: number;
  /** Entries of one batch, in either direction. */
  readonly maxBatchEntries: number;
  /** Bytes of one batch when it is unzipped. */
  readonly maxBatchBytes: number;
  /** Bytes of one photo or logger file. */
  readonly maxBlobBytes: number;
  /** Requests a minute from one tablet, or from one address that has no token. */
  readonly requestsPerMinute: number;
  /** Tries a minute from one address to join with a code. */
  readonly joinsPerMinute: number;
  /** Minutes that a one-time code is good for. */
  readonly codeMinutes: number;
  /** Seconds that requests under way are given at shutdown. */
  readonly shutdownSeconds: number;
  readonly logLevel: 'fatal' | 'error' | 'warn' | 'info' | 'debug' | 'silent';
}

type Environment = Readonly<Record<string, string | undefined>>;

const LOG_LEVELS = ['fatal', 'error', 'warn', 'info', 'debug', 'silent'] as const;

/** Every number that can be set: its variable, what it is without, and its bounds. */
export const numberSettings = {
  port: ['PORT', 8080, 0, 65_535],
  databaseConnections: ['DATABASE_CONNECTIONS', 10, 1, 1000],
  maxBodyBytes: ['MAX_BODY_BYTES', 8_388_608, 65_536, 67_108_864],
  maxBatchEntries: ['MAX_BATCH_ENTRIES', 5000, 1, 100_000],
  maxBatchBytes: ['MAX_BATCH_BYTES', 16_777_216, 4_194_304, 268_435_456],
  maxBlobBytes: ['MAX_BLOB_BYTES', 67_108_864, 65_536, 1_073_741_824],
  requestsPerMinute: ['REQUESTS_PER_MINUTE', 1200, 10, 1_000_000],
  joinsPerMinute: ['JOINS_PER_MINUTE', 10, 1, 10_000],
  codeMinutes: ['CODE_MINUTES', 60, 1, 1440],
  shutdownSeconds: ['SHUTDOWN_SECONDS', 10, 1, 600],
} as const satisfies Record<string, readonly [name: string, without: number, least: number, most: number]>;

const DATA_FOLDER = fileURLToPath(new URL('../../data', import.meta.url));

/** Every environment variable that the server reads, for docs/server.md. */
export const settingNames: readonly string[] = [
  ...Object.values(numberSettings).map(([name]) => name),
  'HOST',
  'DATA_FOLDER',
  'DATABASE_URL',
  'TLS_CERTIFICATE',
  'TLS_KEY',
  'TRUSTED_PROXIES',
  'LOG_LEVEL',
].sort();

/**
 * Reads the settings.
 * @throws {SettingError} that names the variable that is wrong and what it may be
 */
export function readSettings(environment: Environment): Settings {
  const text = (name: string) => (environment[name]?.trim() ? environment[name]!.trim() : null);
  return {
    ...(Object.fromEntries(
      Object.entries(numberSettings).map(([key, spec]) => [key, numberFrom(environment, spec)]),
    ) as Record<keyof typeof numberSettings, number>),
    host: text('HOST') ?? '0.0.0.0',
    dataFolder: text('DATA_FOLDER') ?? DATA_FOLDER,
    databaseUrl: databaseUrlFrom(text('DATABASE_URL')),
    tls: tlsFrom(text('TLS_CERTIFICATE'), text('TLS_KEY')),
    trustedProxies: text('TRUSTED_PROXIES'),
    logLevel: logLevelFrom(text('LOG_LEVEL') ?? 'warn'),
  };
}

/** A setting that cannot be used, in words for whoever starts the server. */
export class SettingError extends Error {}

function numberFrom(environment: Environment, [name, without, least, most]: readonly [string, number, number, number]) {
  const text = environment[name]?.trim();
  if (!text) return without;
  const value = /^\d{1,12}$/.test(text) ? Number(text) : Number.NaN;
  if (value >= least && value <= most) return value;
  throw new SettingError(`${name} must be a whole number from ${least} to ${most}, not "${text}"`);
}

function databaseUrlFrom(url: string | null): string | null {
  if (url === null || /^postgres(ql)?:\/\//.test(url)) return url;
  // The value may hold a password: it is not repeated.
  throw new SettingError('DATABASE_URL must be a PostgreSQL address that begins with postgres://');
}

function tlsFrom(certificate: string | null, key: string | null): Settings['tls'] {
  if (certificate === null && key === null) return null;
  if (certificate === null || key === null)
    throw new SettingError('TLS_CERTIFICATE and TLS_KEY must be given together');
  return { certificate, key };
}

function logLevelFrom(text: string): Settings['logLevel'] {
  const level = LOG_LEVELS.find((l) => l === text);
  if (level) return level;
  throw new SettingError(`LOG_LEVEL must be one of ${LOG_LEVELS.join(', ')}, not "${text}"`);
}
