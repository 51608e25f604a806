import { checkSignature } from '../../../shared/logbook/crypto.ts';
import { type Entry, readEntry } from '../../../shared/logbook/entry.ts';
import type { Log } from '../../../shared/logbook/log.ts';
import type { CastingDatabase, EntryRow } from './database.ts';
import { webVerifier } from './keys.ts';
import { unpackSegment } from './segments.ts';

/** Something stored that no longer reads as it was written: left out, named, and everything else stays usable. */
export interface Damage {
  readonly place: string;
  readonly fault: string;
}

export type Progress = (done: number, of: number) => void;

/**
 * Reads what is stored into a log: the tail first, since what is sealed in between then stands in a segment that is
 * still to come. Rests between segments, so that screens stay free.
 * @param after the last segment that the log has already.
 */
export async function readLog(
  db: CastingDatabase,
  log: Log,
  after: number,
  onProgress?: Progress,
): Promise<{ lastSegment: number; damaged: Damage[] }> {
  const damaged: Damage[] = [];
  for (const row of await db.tail.toArray()) await readRow(db, log, row, damaged);
  const segments = (await db.segments.where('n').above(after).primaryKeys()) as number[];
  for (const [i, n] of segments.entries()) {
    await readSegment(db, log, n, damaged);
    onProgress?.(i + 1, segments.length);
    await rest();
  }
  return { lastSegment: segments.at(-1) ?? after, damaged };
}

/** A sealed segment was checked when it was sealed; the proof checks it again. */
async function readSegment(db: CastingDatabase, log: Log, n: number, damaged: Damage[]): Promise<void> {
  const row = await db.segments.get(n);
  if (!row) return;
  try {
    for (const { text, hash, signature } of await unpackSegment(row))
      log.add(JSON.parse(text) as Entry, hash, signature);
  } catch (error) {
    damaged.push({ place: `segment ${n}, ${row.count} entries`, fault: String(error) });
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

/** Lets the screens have a turn. */
const rest = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));
