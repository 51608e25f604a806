import * as z from 'zod/mini';
import { type Head, headSchema, readEntry, shortId } from '../../shared/logbook/entry.ts';
import type { StoredEntry } from './database/entry-store.ts';
import { Refusal } from './refusal.ts';

/** The first line of a batch: how many entries follow, and where each chain in it must end. */
const headerSchema = z.strictObject({
  says: z.literal('entries'),
  entries: z.int().check(z.gte(0)),
  heads: z.record(shortId(), z.array(headSchema).check(z.minLength(1), z.maxLength(100))),
});

/**
 * Reads a batch: a header and a canonical entry a line, each line ended by a line break. The heads that the header
 * names must be exactly those that the entries lead to, so that no changed or missing entry slips in.
 * @param most entries that are taken
 * @throws {Refusal} with the code of the table, and the line (from 1, the header being 0) where it is one line's fault
 */
export function readBatch(bytes: Uint8Array, casting: string, most: number): StoredEntry[] {
  const lines = decoded(bytes).split('\n');
  if (lines.pop() !== '' || lines.length === 0) throw new Refusal('bad-batch');
  const header = readHeader(lines[0]!);
  if (header.entries > most) throw new Refusal('batch-too-large', { most });
  if (header.entries !== lines.length - 1) throw new Refusal('bad-batch');
  const entries = lines.slice(1).map((text, i) => readLine(text, casting, i + 1));
  if (!sameHeads(header.heads, entries)) throw new Refusal('wrong-hash');
  return entries;
}

function decoded(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Refusal('bad-batch');
  }
}

function readHeader(line: string): z.infer<typeof headerSchema> {
  try {
    return headerSchema.parse(JSON.parse(line));
  } catch {
    throw new Refusal('bad-batch', { line: 0 });
  }
}

function readLine(text: string, casting: string, line: number): StoredEntry {
  const read = readEntry(text, casting);
  if ('entry' in read) {
    const { device, seq, prev } = read.entry;
    return { device, seq, prev, hash: read.hash, text };
  }
  if (read.fault === 'wrong casting') throw new Refusal('other-casting', { line });
  throw new Refusal('refused-entry', { line, why: read.fault });
}

function sameHeads(named: Readonly<Record<string, readonly Head[]>>, entries: readonly StoredEntry[]): boolean {
  const followed = new Set(entries.map((e) => e.prev));
  const tips = new Set(entries.filter((e) => !followed.has(e.hash)).map((e) => `${e.device}/${e.seq}/${e.hash}`));
  const wanted = Object.entries(named).flatMap(([device, heads]) =>
    heads.map(([seq, hash]) => `${device}/${seq}/${hash}`),
  );
  return wanted.length === tips.size && wanted.every((tip) => tips.has(tip));
}
