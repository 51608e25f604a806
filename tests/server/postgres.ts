import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';

const HOW_TO_GET_IT =
  'The tests of the server run on a real PostgreSQL too. Install it (Debian, Ubuntu: apt-get install postgresql), ' +
  'or name the folder of its programs (initdb, postgres) in POSTGRES_BIN.';

/** A PostgreSQL of the test's own: a new cluster in a temporary folder, reached by a socket in it, gone afterwards. */
export class TestPostgres {
  private constructor(
    private readonly folder: string,
    private readonly server: ChildProcess,
  ) {}

  /** @throws {Error} that says how to get PostgreSQL when it is not on this machine */
  static async start(): Promise<TestPostgres> {
    const bin = programFolder();
    const user = ordinaryUser();
    const folder = mkdtempSync(join(tmpdir(), 'lehrbook-pg-'));
    if (user) chownSync(folder, user.uid, user.gid);
    const data = join(folder, 'data');
    const made = spawnSync(
      join(bin, 'initdb'),
      ['-D', data, '-U', 'postgres', '-A', 'trust', '-E', 'UTF8', '--locale=C', '--no-sync'],
      { cwd: folder, encoding: 'utf8', ...user },
    );
    if (made.status !== 0) throw new Error(`initdb failed: ${made.stderr || made.error}`);
    // Nothing is kept, so nothing needs to reach the disk: what is killed in these tests is our server, never this one.
    const settings = ['listen_addresses=', 'fsync=off', 'max_connections=60', `unix_socket_directories=${folder}`];
    const server = spawn(join(bin, 'postgres'), ['-D', data, ...settings.flatMap((s) => ['-c', s])], {
      cwd: folder,
      stdio: ['ignore', 'ignore', 'pipe'],
      ...user,
    });
    await saysReady(server);
    return new TestPostgres(folder, server);
  }

  /** Makes an empty database and gives its address. */
  async database(name: string): Promise<string> {
    const { default: pg } = await import('pg');
    const client = new pg.Client({ connectionString: this.address('postgres') });
    await client.connect();
    await client.query(`create database "${name}"`);
    await client.end();
    return this.address(name);
  }

  async stop(): Promise<void> {
    const ended = new Promise((resolve) => this.server.once('exit', resolve));
    // The fast shutdown: open sessions are ended.
    if (this.server.exitCode === null && this.server.kill('SIGINT')) await ended;
    rmSync(this.folder, { recursive: true, force: true });
  }

  private address(database: string): string {
    return `postgres://postgres@localhost/${database}?host=${encodeURIComponent(this.folder)}`;
  }
}

/** Where initdb and postgres lie: Debian keeps them off the PATH. */
function programFolder(): string {
  const debian = '/usr/lib/postgresql';
  const versions = existsSync(debian) ? readdirSync(debian).sort((a, b) => Number(b) - Number(a)) : [];
  const folders = [
    ...(process.env.POSTGRES_BIN ? [process.env.POSTGRES_BIN] : []),
    ...versions.map((version) => join(debian, version, 'bin')),
    ...(process.env.PATH ?? '').split(delimiter),
  ];
  const found = folders.find((f) => existsSync(join(f, 'initdb')) && existsSync(join(f, 'postgres')));
  if (found === undefined) throw new Error(`PostgreSQL is missing. ${HOW_TO_GET_IT}`);
  return found;
}

/** PostgreSQL refuses to run as root: there it runs as the user that its package made. */
function ordinaryUser(): { uid: number; gid: number } | null {
  if (process.getuid?.() !== 0) return null;
  const [uid, gid] = ['-u', '-g'].map((which) => {
    const asked = spawnSync('id', [which, 'postgres'], { encoding: 'utf8' });
    return asked.status === 0 ? Number(asked.stdout) : undefined;
  });
  if (uid === undefined || gid === undefined) throw new Error(`There is no user postgres. ${HOW_TO_GET_IT}`);
  return { uid, gid };
}

function saysReady(server: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    let said = '';
    server.stderr!.on('data', (data: Buffer) => {
      said += data.toString();
      if (said.includes('ready to accept connections')) resolve();
    });
    server.once('error', reject);
    server.once('exit', (code) => reject(new Error(`PostgreSQL ended with ${code}: ${said}`)));
  });
}
