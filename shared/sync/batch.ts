import type * as z from 'zod/mini';
import { canonicalJson } from '../logbook/canonical.ts';
import type { Head } from '../logbook/entry.ts';
import type { SyncErrorCode } from './errors.ts';
import { batchHeaderSchema } from './messages.ts';
import type { Heads, ReadEntry, StoredEntry } from './port.ts';
import { type Before, fullLine, shortLine } from './short-line.ts';

/** A code of the table, and what helps its sender to do better. */
export interface Refused {
  readonly code: SyncErrorCode;
  readonly details: Readonly<Record<string, unknown>>;
}

export const refused = (code: SyncErrorCode, details: Refused['details'] = {}): Refused => ({ code, details });

/** A batch as text: a header and a line an entry, each ended by a line break, an entry before those that build on it. */
export function writeBatch(entries: readonly StoredEntry[]): string {
  const last = new Map<string, Before>();
  const lines = entries.map((entry) => {
    const before = last.get(entry.device);
    last.set(entry.device, entry);
    const follows = before?.hash === entry.prev && before.seq + 1 === entry.seq;
    return follows ? shortLine(entry.text, before) : entry.text;
  });
  const header = canonicalJson({ says: 'entries', entries: entries.length, heads: tipsOf(entries) });
  return [header, ...lines].map((line) => `${line}\n`).join('');
}

export interface ReadBatch {
  /** The sound entries: of chains in which nothing of the batch is at fault. */
  readonly entries: readonly StoredEntry[];
  /** What is wrong with others; each makes the whole batch refused where that is wanted. */
  readonly faults: readonly (Refused & { readonly device: string | null })[];
}

/**
 * Reads a batch. The heads that the header names must be exactly those that the entries lead to, so that no changed or
 * missing entry slips in.
 * @param most entries that are taken
 * @returns a refusal when it is not laid out as a batch; `line` counts from 1, the header being 0
 */
export function readBatch(text: string, casting: string, most: number, read: ReadEntry): ReadBatch | Refused {
  const lines = text.split('\n');
  if (lines.pop() !== '' || lines.length === 0) return refused('bad-batch');
  const header = readHeader(lines[0]!);
  if (!header) return refused('bad-batch', { line: 0 });
  if (header.entries > most) return refused('batch-too-large', { most });
  if (header.entries !== lines.length - 1) return refused('bad-batch');
  const faults: (Refused & { device: string | null })[] = [];
  const last = new Map<string, Before>();
  const entries: StoredEntry[] = [];
  for (let line = 1; line < lines.length; line++) {
    const found = readLine(lines[line]!, casting, line, last, read);
    if ('code' in found) faults.push(found);
    else entries.push(found);
  }
  for (const device of unproven(header.heads, entries)) faults.push({ ...refused('wrong-hash'), device });
  const bad = new Set(faults.map((f) => f.device));
  // A line that does not even tell its device may be of any chain.
  return { faults, entries: bad.has(null) ? [] : entries.filter((e) => !bad.has(e.device)) };
}

function readHeader(line: string): z.infer<typeof batchHeaderSchema> | null {
  try {
    const header = batchHeaderSchema.safeParse(JSON.parse(line));
    return header.success ? header.data : null;
  } catch {
    return null;
  }
}

function readLine(
  line: string,
  casting: string,
  at: number,
  last: Map<string, Before>,
  read: ReadEntry,
): StoredEntry | (Refused & { device: string | null }) {
  const text = fullLine(line, (device) => last.get(device));
  if (text === null) return { ...refused('bad-batch', { line: at }), device: deviceIn(line) };
  const found = read(text, casting);
  if ('fault' in found) {
    const device = deviceIn(line);
    if (found.fault === 'wrong casting') return { ...refused('other-casting', { line: at }), device };
    return { ...refused('refused-entry', { line: at, why: found.fault }), device };
  }
  const { device, seq, prev } = found.entry;
  const entry = { device, seq, prev, hash: found.hash, text };
  last.set(device, entry);
  return entry;
}

/** The device that a line names, as far as it can be told of one that is not sound. */
function deviceIn(line: string): string | null {
  try {
    const { device } = JSON.parse(line) as { device?: unknown };
    return typeof device === 'string' ? device : null;
  } catch {
    return null;
  }
}

/** The devices whose entries do not lead to exactly the heads that are named. */
function unproven(named: Heads, entries: readonly StoredEntry[]): string[] {
  const found = tipsOf(entries);
  const names = (heads: readonly Head[] | undefined) => (heads ?? []).map(([seq, hash]) => `${seq}/${hash}`).sort();
  return [...new Set([...Object.keys(named), ...Object.keys(found)])].filter(
    (device) => names(named[device]).join() !== names(found[device]).join(),
  );
}

/** The entries of a list that no other of it follows, by device. */
export function tipsOf(entries: readonly StoredEntry[]): Heads {
  const followed = new Set(entries.map((e) => e.prev));
  const tips: Record<string, Head[]> = {};
  for (const { device, seq, hash } of entries) {
    if (followed.has(hash)) continue;
    const heads = tips[device];
    if (!heads) tips[device] = [[seq, hash]];
    else if (!heads.some((h) => h[1] === hash)) heads.push([seq, hash]);
  }
  return tips;
}
