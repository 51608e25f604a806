import { percentile } from '../lab.ts';
import type { BenchEntries } from './entries.ts';
import type { FirstSync, FirstSyncs, TenEntries } from './measures.ts';

/** What was measured with one set of entries. */
export interface Measured {
  readonly entries: Pick<BenchEntries, 'zipped' | 'each'> & { readonly count: number };
  readonly syncs: FirstSyncs;
  readonly ten: TenEntries;
}

const seconds = (ms: number): string => (ms / 1000).toFixed(2);
const kilobytes = (bytes: number): string => (bytes / 1000).toFixed(bytes < 100_000 ? 1 : 0);
const median = (runs: readonly FirstSync[], of: (run: FirstSync) => number): number => percentile(runs.map(of), 0.5);
const met = (yes: boolean): string => (yes ? 'met' : 'missed');

/** docs/performance-sync.md: what one run measured. */
export function syncPage(all: readonly Measured[], given: readonly string[], cores: number): string {
  const sizes = given.filter((text) => /^\d/.test(text)).join(' ');
  return `# Performance of sync

One run of \`npx tsx tests/bench/run-sync.ts ${sizes} docs/performance-sync.md\` on a machine of ${cores} processor cores: servers and Chromium (headless, a profile on disk for each tablet) side by side on it, over loopback. Single figures mean little on another machine; the ratios of one run are what to compare. Times are medians; the sides alternate.

${all.map(sectionOf).join('\n')}
## Ten new entries from tablet to tablet

Both tablets have the log; ten notes are saved on one, then it does a pass and the other does one. Times and bytes of both passes together, both ways, HTTP headers and all.

| entries that both have | ms | bytes |
| --- | --- | --- |
${all.map(({ ten }) => `| ${ten.entries} | ${ten.ms.toFixed(0)} | ${ten.bytes} |`).join('\n')}

${tenWords(all)}

## Where the time goes

The server gives pages that lie ready, as Yjs's does here; PouchDB's works them out. What Lehrbook spends in the page goes into reading and checking: parsing, canonical form, SHA-256, envelope and body each take a part. The peers read their entries too, but prove no chain and no signature. The work is spread over two workers and the page, so that the screens stay free; where more programs run than there are cores, each of them waits its turn, and so does the sync. Opening again unzips and reads only the pages that the question asks for: the rest is filed by what the log ties and files entries by.

## What is measured

The entries are those of a long practice log of four tablets (\`shared/practice/long-log.ts\`): real chains, real signatures, fourteen kinds. All sides are given the same.

**Lehrbook**: the product's server on SQLite in a process of its own; in the page the product's driver and store. First sync: from the start of the pass until every envelope, hash, chain and signature is checked, all is stored in a transaction whose end was waited for, and the log answers what was measured at a station. Opening: until the same question is answered, in a browser process that was started anew; beside it the time until something can be saved, which is when the app shows its first screen as it was kept.

**PouchDB**: express-pouchdb on express 4 in a process of its own; in the page the indexeddb adapter, \`replicate.from\` with \`batch_size\` 1000. A document an entry, named by tablet and place. Until the replication has ended and the count is right; opening counts too, and reads no document.

**Yjs**: one document, one array, an item an entry, each tablet a client. One gzip update from a process of its own, applied, and stored by y-indexeddb; until its transaction has ended and the count is right. Opening: until \`whenSynced\` and the count is right.

**Bytes down** are counted at the server's sockets, headers and all. Beside them stand the entries as lines in one gzip, level 6, which nobody could check a chain by: without \`prev\` a line no longer says what it follows.
`;
}

function sectionOf({ entries, syncs }: Measured): string {
  const { our, pouch, yjs } = syncs;
  const sync = (runs: readonly FirstSync[]) => median(runs, (r) => r.sync_ms);
  const opened = (runs: readonly FirstSync[]) => median(runs, (r) => r.open_ms);
  const ready = median(our, (r) => r.ready_ms);
  const down = (runs: readonly FirstSync[]) => median(runs, (r) => r.down);
  const times = (a: number, b: number) => (a / b).toFixed(1);
  const row = (name: string, runs: readonly FirstSync[]) =>
    `| ${name} | ${seconds(sync(runs))} | ${seconds(opened(runs))} | ${kilobytes(down(runs))} |`;
  const { withPrev, withoutPrev } = entries.zipped;
  return `## ${entries.count} entries of ${entries.each} bytes

| side | first sync, s | opening again, s | bytes down, kB |
| --- | --- | --- | --- |
${row(`Lehrbook, median of ${our.length}`, our)}
${row(`PouchDB, median of ${pouch.length}`, pouch)}
${row(`Yjs, median of ${yjs.length}`, yjs)}
| gzip lines without \`prev\` | | | ${kilobytes(withoutPrev)} |
| gzip lines with \`prev\` | | | ${kilobytes(withPrev)} |

| what we set ourselves | found | |
| --- | --- | --- |
| first sync at least 5 × faster than PouchDB | ${times(sync(pouch), sync(our))} × | ${met(sync(pouch) >= 5 * sync(our))} |
| first sync no slower than Yjs | ${times(sync(yjs), sync(our))} × as fast | ${met(sync(our) <= sync(yjs))} |
| opening at least 5 × faster than Yjs, whole log | ${times(opened(yjs), opened(our))} × | ${met(opened(yjs) >= 5 * opened(our))} |
| the same, until something can be saved (${ready.toFixed(0)} ms) | ${times(opened(yjs), ready)} × | ${met(opened(yjs) >= 5 * ready)} |
| bytes down at most those of gzip lines without \`prev\` | ${(down(our) / withoutPrev).toFixed(3)} of them | ${met(down(our) <= withoutPrev)} |
| the same, with \`prev\` | ${(down(our) / withPrev).toFixed(3)} of them | ${met(down(our) <= withPrev)} |
`;
}

function tenWords(all: readonly Measured[]): string {
  const [small, large] = [all[0]!.ten, all.at(-1)!.ten];
  if (small === large) return 'One size alone says nothing about growth.';
  const factor = (large.entries / small.entries).toFixed(0);
  return `A log ${factor} times as long costs ${(large.bytes / small.bytes).toFixed(2)} times the bytes and ${(large.ms / small.ms).toFixed(2)} times the time.`;
}
