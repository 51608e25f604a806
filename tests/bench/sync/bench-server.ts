import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Bytes } from './counted.ts';

const root = fileURLToPath(new URL('../../..', import.meta.url));

export type Side = 'our' | 'pouch' | 'yjs';

const running = new Set<ChildProcess>();
process.once('exit', () => {
  for (const child of running) child.kill('SIGKILL');
});

/** The server of one side in a process of its own: it serves the pages and what they fetch, and counts the bytes. */
export class BenchServer {
  private constructor(
    private readonly child: ChildProcess,
    private readonly dataFolder: string,
    readonly address: string,
    /** One-time codes, where tablets join with one. */
    readonly codes: string[],
  ) {}

  static async start(side: Side, pages: string, linesFile: string, casting: string): Promise<BenchServer> {
    const dataFolder = mkdtempSync(join(tmpdir(), `lehrbook-${side}-`));
    const child = fork(join(root, `tests/bench/sync/${side}-server.ts`), [pages, linesFile, dataFolder, casting], {
      cwd: root,
      execArgv: ['--import', 'tsx', '--max-old-space-size=6000'],
    });
    running.add(child);
    child.once('exit', () => running.delete(child));
    const ended = once(child, 'exit').then(() => {
      throw new Error(`The ${side} server ended before it listened`);
    });
    const [said] = (await Promise.race([once(child, 'message'), ended])) as [
      { ready: { address: string; codes?: string[] } },
    ];
    ended.catch(() => undefined);
    return new BenchServer(child, dataFolder, said.ready.address, said.ready.codes ?? []);
  }

  async bytes(): Promise<Bytes> {
    const answer = once(this.child, 'message');
    this.child.send('bytes');
    const [{ bytes }] = (await answer) as [{ bytes: Bytes }];
    return bytes;
  }

  async stop(): Promise<void> {
    const ended = once(this.child, 'exit');
    this.child.kill('SIGKILL');
    await ended;
    rmSync(this.dataFolder, { recursive: true, force: true });
  }
}
