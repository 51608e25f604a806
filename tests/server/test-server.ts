import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** What a test that failed on the way would leave behind. */
const running = new Set<ChildProcess>();
process.once('exit', () => {
  for (const child of running) child.kill('SIGKILL');
});

export interface TestServerWanted {
  readonly port?: number;
  /** Where its database is; without, an empty one of its own that goes when it ends. */
  readonly world?: Readonly<Record<string, string>>;
  /** Other settings. */
  readonly settings?: Readonly<Record<string, string>>;
}

/** The real server in a process of its own, on a free port. */
export class TestServer {
  private constructor(
    private readonly process: ChildProcess,
    private readonly ownFolder: string | null,
    readonly address: string,
    /** What it has said on standard error: its log, and the code for the first tablet. */
    private readonly said: { errors: string },
  ) {}

  static async start({ port = 0, world, settings }: TestServerWanted = {}): Promise<TestServer> {
    const ownFolder = world ? null : mkdtempSync(join(tmpdir(), 'lehrbook-data-'));
    const child = spawn(process.execPath, ['--import', 'tsx', 'src/server/main.ts'], {
      cwd: root,
      env: {
        ...process.env,
        DATABASE_URL: '',
        ...(world ?? { DATA_FOLDER: ownFolder! }),
        ...settings,
        PORT: String(port),
        HOST: '127.0.0.1',
      },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    running.add(child);
    child.once('exit', () => running.delete(child));
    const said = { errors: '' };
    child.stderr!.on('data', (data: Buffer) => {
      said.errors += data.toString();
    });
    const line = await new Promise<string>((resolve, reject) => {
      child.stdout!.once('data', (data: Buffer) => resolve(data.toString()));
      child.once('exit', (code) => reject(new Error(`The server ended with ${code}: ${said.errors}`)));
    });
    const address = /https?:\/\/\S+/.exec(line)?.[0];
    if (!address) throw new Error(`The server said no address: ${line}`);
    return new TestServer(child, ownFolder, address, said);
  }

  get pid(): number {
    return this.process.pid!;
  }

  get port(): number {
    return Number(new URL(this.address).port);
  }

  get errors(): string {
    return this.said.errors;
  }

  /** The code that it prints for the first tablet. */
  async firstCode(): Promise<string> {
    const find = () => /[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]{4}/.exec(this.errors)?.[0];
    while (!find()) {
      if (this.process.exitCode !== null) throw new Error(`The server printed no code: ${this.errors}`);
      await once(this.process.stderr!, 'data');
    }
    return find()!;
  }

  /** Ends it by its process id, without a word. */
  async kill(): Promise<void> {
    await this.end('SIGKILL');
    if (this.ownFolder) rmSync(this.ownFolder, { recursive: true, force: true });
  }

  /** Asks it to end, and gives the status that it ended with. */
  async shutDown(): Promise<number | null> {
    await this.end('SIGTERM');
    return this.process.exitCode;
  }

  private async end(signal: 'SIGKILL' | 'SIGTERM'): Promise<void> {
    if (this.process.exitCode !== null || this.process.signalCode !== null) return;
    const ended = new Promise((resolve) => this.process.once('exit', resolve));
    process.kill(this.pid, signal);
    await ended;
  }
}
