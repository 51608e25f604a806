import { checkSignature } from '../../../shared/logbook/crypto.ts';
import { type Entry, readEntry } from '../../../shared/logbook/entry.ts';
import type { Log } from '../../../shared/logbook/log.ts';
import type { CastingDatabase, EntryRow, SegmentRow } from './database.ts';
import { giveWay } from './give-way.ts';
import { webVerifier } from './keys.ts';
import { addOutlined, soundLines, unpackSegment } from './segments.ts';

/** Something stored that no longer reads as it was written: left out, named, and everything else stays usable. */
export interface Damage {
  readonly place: string;
  readonly fault: string;
}

export type Progress = (done: number, of: number) => void;

/** What came of reading. */
export interface LogRead {
  readonly lastSegment: number;
  readonly damaged: Damage[];
  /** Segments whose lines had no outlines of this build: they had to be read by their text. */
  readonly unoutlined: readonly number[];
}

/**
 * Reads what is stored into a log: the tail, and the segments that were there with it, so that what is sealed in between
 * is read once. Rests between segments, so that screens stay free.
 * @param after the last segment that the log has already.
 */
export async function readLog(db: CastingDatabase, log: Log, after: number, onProgress?: Progress): Promise<LogRead> {
  const damaged: Damage[] = [];
  const unoutlined: number[] = [];
  const { tail, segments, first } = await db.transaction('r', db.tail, db.segments, () => stored(db, after));
  for (const row of tail) await readRow(db, log, row, damaged);
  const turns = new Turns();
  let done = 0;
  for await (const rows of segmentRows(db, segments, first)) {
    for (const row of rows) {
      if ((await readSegment(log, row, damaged)) === 'by its text') unoutlined.push(row.n!);
      onProgress?.(++done, segments.length);
      await turns.next();
    }
  }
  return { lastSegment: segments.at(-1) ?? after, damaged, unoutlined };
}

/** Rows that are read at a time: each reading has a cost of its own, and the next are read while these are filed. */
const ROWS_AT_ONCE = 10;

/** What is there at one moment, and the first rows of it. */
async function stored(
  db: CastingDatabase,
  after: number,
): Promise<{ tail: EntryRow[]; segments: number[]; first: SegmentRow[] }> {
  const wanted = () => db.segments.where('n').above(after);
  const [tail, segments, first] = await Promise.all([
    db.tail.toArray(),
    wanted().primaryKeys(),
    wanted().limit(ROWS_AT_ONCE).toArray(),
  ]);
  return { tail, segments, first };
}

async function* segmentRows(
  db: CastingDatabase,
  keys: readonly number[],
  first: readonly SegmentRow[],
): AsyncGenerator<readonly SegmentRow[]> {
  let rows = first;
  for (let at = ROWS_AT_ONCE; at < keys.length; at += ROWS_AT_ONCE) {
    const next = db.segments.bulkGet(keys.slice(at, at + ROWS_AT_ONCE));
    // Where the reading ends early nobody hears of the rows that come after.
    next.catch(() => undefined);
    yield rows;
    rows = (await next).filter((row) => row !== undefined);
  }
  yield rows;
}

/** A sealed segment was checked when it was sealed; the proof checks it again. */
async function readSegment(
  log: Log,
  row: SegmentRow,
  damaged: Damage[],
): Promise<'by outlines' | 'by its text' | null> {
  try {
    const outlined = await soundLines(row);
    if (outlined) {
      addOutlined(log, outlined);
      return 'by outlines';
    }
    for (const { text, hash, signature } of await unpackSegment(row))
      log.add(JSON.parse(text) as Entry, hash, signature);
    return 'by its text';
  } catch (error) {
    damaged.push({ place: `segment ${row.n}, ${row.count} entries`, fault: String(error) });
    return null;
  }
}

/** Reads a row of the tail back; what does not read as it was written is named and left out. */
async function readRow(db: CastingDatabase, log: Log, row: EntryRow, damaged: Damage[]): Promise<void> {
  if (log.get(row.hash)) return;
  const read = readEntry(row.text, db.casting);
  if ('fault' in read || read.hash !== row.hash) {
    const place = `tablet ${row.device.slice(0, 8)}, entry ${row.seq}`;
    damaged.push({ place, fault: 'fault' in read ? read.fault : 'its bytes were changed' });
    return;
  }
  log.add(read.entry, read.hash, await checkSignature(read.entry, webVerifier));
}

/** Lets the screens have a turn when they have waited for about a frame: a turn each time would cost more than the reading. */
class Turns {
  private last_ms = performance.now();

  async next(): Promise<void> {
    if (performance.now() - this.last_ms < FRAME_ms) return;
    await giveWay();
    this.last_ms = performance.now();
  }
}

const FRAME_ms = 16;
