import { checkSignature } from '../../../shared/logbook/crypto.ts';
import { type Entry, readEntry } from '../../../shared/logbook/entry.ts';
import type { CastingDatabase } from './database.ts';
import { webVerifier } from './keys.ts';
import { unpackSegment } from './segments.ts';

export interface Proof {
  readonly entries: number;
  readonly signatures: number;
  /** Each names its place: segment or tail, tablet and seq. */
  readonly faults: readonly string[];
}

export type Progress = (done: number, of: number) => void;

interface StoredLine {
  readonly place: string;
  readonly hash: string;
  readonly text: string;
}

/**
 * Every stored line with its place; a segment that does not unpack is named in `faults`. What is sealed meanwhile is read
 * where it lies then: the tail counts only when no segment was added since the last look.
 */
export async function* storedLines(db: CastingDatabase, faults: string[]): AsyncGenerator<StoredLine[]> {
  for (let last = 0; ; ) {
    const { segments, tail } = await db.transaction('r', db.segments, db.tail, async () => ({
      segments: (await db.segments.where('n').above(last).primaryKeys()) as number[],
      tail: await db.tail.toArray(),
    }));
    for (const n of segments) yield await linesOf(db, n, faults);
    last = segments.at(-1) ?? last;
    if (segments.length > 0) continue;
    yield tail.map(({ hash, text, n }) => ({ hash, text, place: `tail, row ${n}` }));
    return;
  }
}

async function linesOf(db: CastingDatabase, n: number, faults: string[]): Promise<StoredLine[]> {
  const row = await db.segments.get(n);
  if (!row) return [];
  try {
    const lines = await unpackSegment(row);
    return lines.map(({ hash, text }, i) => ({ hash, text, place: `segment ${n}, line ${i + 1}` }));
  } catch (error) {
    const why = error instanceof Error ? error.message : error;
    faults.push(`segment ${n}: its ${row.count} entries do not unpack (${why})`);
    return [];
  }
}

/** Reads every stored line again and checks its hash, its line to the one before, and its signature. */
export async function proveChains(db: CastingDatabase, onProgress: Progress): Promise<Proof> {
  const faults: string[] = [];
  const known = new Map<string, Pick<Entry, 'device' | 'seq' | 'prev'> & { place: string }>();
  const of = (await db.segments.count()) * 500 + (await db.tail.count());
  let signatures = 0;
  for await (const lines of storedLines(db, faults)) {
    for (const line of lines) {
      const read = readEntry(line.text, db.casting);
      if ('fault' in read) {
        faults.push(`${line.place}: ${read.fault}`);
        continue;
      }
      const { device, seq, prev } = read.entry;
      const place = `${line.place} (tablet ${device.slice(0, 8)}, entry ${seq})`;
      if (read.hash !== line.hash) faults.push(`${place}: its bytes were changed`);
      const signature = await checkSignature(read.entry, webVerifier);
      if (signature === 'bad') faults.push(`${place}: its signature does not fit`);
      if (signature === 'good') signatures += 1;
      known.set(read.hash, { device, seq, prev, place });
    }
    onProgress(known.size, Math.max(of, known.size));
  }
  return { entries: known.size, signatures, faults: [...faults, ...brokenLinks(known)] };
}

function brokenLinks(known: ReadonlyMap<string, Pick<Entry, 'device' | 'seq' | 'prev'> & { place: string }>): string[] {
  return [...known.values()].flatMap(({ device, seq, prev, place }) => {
    const before = prev === null ? undefined : known.get(prev);
    const follows = seq === 1 ? prev === null : before?.device === device && before.seq === seq - 1;
    return follows ? [] : [`${place}: the entry before it is missing or another one`];
  });
}
