import type { ReadBatch } from '../../../shared/sync/batch.ts';
import type { StoredEntry } from '../../../shared/sync/port.ts';
import type { ReceivedRun } from '../storage/received-run.ts';
import { type OutlinedLine, outlinedLines } from '../storage/segments.ts';
import type { CheckedPage } from './check-page.ts';
import { gunzipped } from './zip.ts';

/** Pages of fewer bytes are read where they are wanted: asking beside would take longer. */
const LITTLE_BYTES = 20_000;

/** A page as text; where it was checked beside the screens, as it was read there, and its text stays there. */
export type PageText = { readonly text: string } | { readonly batch: ReadBatch };

type Answer = { readonly n: number } & ({ readonly page: CheckedPage } | { readonly error: string });

/** Workers that check pages, in turn: with one more the screens would have to share their processor. */
const WORKERS = 2;

/** Checks long pages of arrivals beside the screens, and keeps what goes straight into the store. */
export class PageChecker {
  private workers: Worker[] = [];
  private asked = 0;
  private readonly waiting = new Map<number, (answer: Answer | null) => void>();
  private readonly runs = new WeakMap<readonly StoredEntry[], ReceivedRun>();

  constructor(private readonly casting: string) {}

  /** @throws {Error} when it is no gzip, or ends too early. */
  readonly check = async (gz: ArrayBuffer): Promise<PageText> => {
    const answer = gz.byteLength < LITTLE_BYTES ? null : await this.askBeside(gz);
    if (answer === null) return { text: await gunzipped(gz) };
    if ('error' in answer) throw new Error(answer.error);
    const { page } = answer;
    if ('text' in page) return page;
    const { segment, clock } = page;
    const lines = outlinedLines(segment, segment.outlines!);
    const entries = lines.map(storedEntry);
    this.runs.set(entries, { row: segment, lines, clock });
    return { batch: { entries, faults: [] } };
  };

  /** What a page's entries are as one run; undefined where they must be taken line by line. */
  runOf(entries: readonly StoredEntry[]): ReceivedRun | undefined {
    return this.runs.get(entries);
  }

  /** Starts the workers: long pages will come. */
  prepare(): void {
    while (this.workers.length < WORKERS) this.workers.push(this.started());
  }

  /** Lets the workers go until they are wanted again. Whoever still waits reads for themselves. */
  rest(): void {
    for (const worker of this.workers) worker.terminate();
    this.workers = [];
    for (const answer of this.waiting.values()) answer(null);
    this.waiting.clear();
  }

  private askBeside(gz: ArrayBuffer): Promise<Answer | null> {
    this.prepare();
    const n = ++this.asked;
    return new Promise((resolve) => {
      this.waiting.set(n, resolve);
      this.workers[n % WORKERS]!.postMessage({ n, gz, casting: this.casting });
    });
  }

  private started(): Worker {
    const worker = new Worker(new URL('./page-worker.ts', import.meta.url), { type: 'module' });
    worker.onmessage = ({ data }: MessageEvent<Answer>) => {
      this.waiting.get(data.n)?.(data);
      this.waiting.delete(data.n);
    };
    worker.onerror = () => this.rest();
    return worker;
  }
}

/** What is asked of an entry on its way; its text only where it is taken line by line. */
function storedEntry(line: OutlinedLine): StoredEntry {
  const { device, seq, hash, prev } = line.outline;
  return {
    device,
    seq,
    hash,
    prev,
    get text() {
      return line.text();
    },
  };
}
