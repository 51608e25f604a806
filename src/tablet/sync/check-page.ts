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

/** A page of arrivals as text; or, where it is long and all of it is sound, as the segment that it will be. */
export type CheckedPage = { readonly text: string } | CheckedSegment;

export interface CheckedSegment {
  readonly segment: SegmentRow;
  /** The latest clock of its lines that does not run ahead of the wall. */
  readonly clock: Clock;
}

/**
 * Checks a page of arrivals: its envelopes, hashes, heads and signatures.
 * @throws {TypeError} when it is no gzip, or ends too early.
 */
export async function checkPage(gz: ArrayBuffer, casting: string): Promise<CheckedPage> {
  const text = await gunzipped(gz);
  const lines = new Map<string, Line>();
  const batch = readBatch(text, casting, OUTLINED_MOST, (line, of) => {
    const found = readEntry(line, of);
    if (!('fault' in found)) lines.set(found.hash, { ...found, text: line });
    return found;
  });
  if ('code' in batch || batch.faults.length > 0) return { text };
  // What comes twice, or is little, is taken line by line.
  if (lines.size < batch.entries.length || lines.size < SEGMENT_SIZE) return { text };
  const outlines = await Promise.all([...lines.values()].map(outlineOfLine));
  const now_ms = Date.now();
  return {
    segment: await batchSegment(new Uint8Array(gz), outlines),
    clock: [...lines.values()].reduce<Clock>((last, { entry }) => adopt(last, entry.clock, now_ms), [0, 0]),
  };
}

interface Line {
  readonly entry: Entry;
  readonly hash: string;
  readonly text: string;
}

/** Only what is signed waits: a promise an entry would cost more than most of its checks. */
function outlineOfLine({ entry, hash, text }: Line): Outline | Promise<Outline> {
  const content = contentOf(entry);
  if (!entry.signature) return outlineOf(content, hash, 'none');
  return checkSignature(entry, webVerifier, text).then((signature) => outlineOf(content, hash, signature));
}
