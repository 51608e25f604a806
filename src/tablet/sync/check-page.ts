import { adopt, type Clock } from '../../../shared/logbook/clock.ts';
import { checkSignature } from '../../../shared/logbook/crypto.ts';
import { type Entry, readEntry } from '../../../shared/logbook/entry.ts';
import { contentOf, type Outline, outlineOf } from '../../../shared/logbook/outline.ts';
import { readBatch } from '../../../shared/sync/batch.ts';
import type { SegmentRow } from '../storage/database.ts';
import { webVerifier } from '../storage/keys.ts';
import { OUTLINED_MOST } from '../storage/outlines.ts';
import { batchSegment, SEGMENT_SIZE } from '../storage/segments.ts';
import { gunzipped } from './zip.ts';

/** A page of arrivals, unzipped; where it is long and all of it is sound, also as the segment that it will be. */
export interface CheckedPage {
  readonly text: string;
  readonly segment: SegmentRow | null;
  /** The latest clock of the segment's lines that does not run ahead of the wall. */
  readonly clock: Clock;
}

/**
 * Checks a page of arrivals: its envelopes, hashes, heads and signatures.
 * @throws {TypeError} when it is no gzip, or ends too early.
 */
export async function checkPage(gz: ArrayBuffer, casting: string): Promise<CheckedPage> {
  const text = await gunzipped(gz);
  const page: CheckedPage = { text, segment: null, clock: [0, 0] };
  const entries = new Map<string, Entry>();
  const batch = readBatch(text, casting, OUTLINED_MOST, (line, of) => {
    const found = readEntry(line, of);
    if (!('fault' in found)) entries.set(found.hash, found.entry);
    return found;
  });
  if ('code' in batch || batch.faults.length > 0) return page;
  // What comes twice, or is little, is taken line by line.
  if (entries.size < batch.entries.length || entries.size < SEGMENT_SIZE) return page;
  const outlines = await Promise.all([...entries].map(([hash, entry]) => outlined(hash, entry)));
  const clocks = [...entries.values()].map((entry): Clock => entry.clock);
  return {
    text,
    segment: batchSegment(new Uint8Array(gz), outlines),
    clock: clocks.reduce((last, clock) => adopt(last, clock, Date.now()), page.clock),
  };
}

const outlined = async (hash: string, entry: Entry): Promise<Outline> =>
  outlineOf(contentOf(entry), hash, await checkSignature(entry, webVerifier));
