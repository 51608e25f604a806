import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js';
import { gunzipSync } from 'fflate';
import type { Entry } from '../../../shared/logbook/entry.ts';
import type { EntrySource, Log } from '../../../shared/logbook/log.ts';
import type { Outline, SignatureCheck } from '../../../shared/logbook/outline.ts';
import { type Before, fullLine } from '../../../shared/sync/short-line.ts';
import type { EntryRow, SegmentRow } from './database.ts';

import { isOfThisBuild, type OutlineColumns, packOutlines, unpackOutlines } from './outlines.ts';

/** Entries in a sealed segment, and how long the tail may grow before its oldest are sealed. */
export const SEGMENT_SIZE = 500;
export const SEAL_AT = 600;

const CHECKS: readonly SignatureCheck[] = ['none', 'good', 'bad'];
const HASH_BYTES = 32;

/** A line of a segment: its text, and what was known of it when it was sealed. */
export interface SealedLine {
  readonly text: string;
  readonly hash: string;
  readonly signature: SignatureCheck;
}

/** The lines of a segment whose bytes were checked; they are unzipped, all at once, when somebody first asks for one. */
class SegmentText {
  private unzipped: { readonly bytes: Uint8Array; readonly starts: Uint32Array } | null = null;

  constructor(private readonly row: SegmentRow) {}

  line(i: number): string {
    this.unzipped ??= this.unzip();
    const { bytes, starts } = this.unzipped;
    return decoder.decode(bytes.subarray(starts[i], starts[i + 1]! - 1));
  }

  /** Where each line starts, and where one after the last would. */
  private unzip(): { bytes: Uint8Array; starts: Uint32Array } {
    const { gz, count, isBatch } = this.row;
    const bytes = gunzipSync(gz);
    const starts = new Uint32Array(count + 1);
    // A batch begins with its header and ends with a line break.
    let at = isBatch ? bytes.indexOf(BREAK) + 1 : 0;
    for (let i = 0; i < count; i++) {
      if (at > bytes.length) throw new Error(`${i} lines in place of ${count}`);
      starts[i] = at;
      const end = bytes.indexOf(BREAK, at);
      at = end < 0 ? bytes.length + 1 : end + 1;
    }
    starts[count] = at;
    if (at !== bytes.length + (isBatch ? 0 : 1)) throw new Error(`more lines than ${count}`);
    return { bytes, starts };
  }
}

const BREAK = 10;
const decoder = new TextDecoder();

/** A line by its outline; its text is put together when it is asked for. */
export class OutlinedLine implements EntrySource {
  constructor(
    readonly outline: Outline,
    private readonly segment: SegmentText,
    private readonly place: number,
  ) {}

  text(): string {
    return fullLine(this.segment.line(this.place), () => beforeOf(this.outline))!;
  }

  entry(): Entry {
    return JSON.parse(this.text()) as Entry;
  }
}

/**
 * Packs rows of the tail into one row. Canonical JSON holds no line breaks, so that a line is an entry.
 * @param outlines of the rows, in their order, where they are known
 */
export async function packSegment(
  rows: readonly EntryRow[],
  signatureOf: (hash: string) => SignatureCheck,
  outlines?: readonly Outline[],
): Promise<SegmentRow> {
  const hashes = rows.map((row) => row.hash);
  const text = new TextEncoder().encode(rows.map((r) => r.text).join('\n'));
  const gz = await piped(text, new CompressionStream('gzip'));
  return {
    ...hashColumns(hashes, hashes.map(signatureOf)),
    gz,
    ...(outlines ? await outlined(gz, outlines) : {}),
  };
}

/** A batch of sync as a segment, its bytes as they came. */
export async function batchSegment(gz: Uint8Array<ArrayBuffer>, outlines: readonly Outline[]): Promise<SegmentRow> {
  const columns = hashColumns(
    outlines.map((o) => o.hash),
    outlines.map((o) => o.signature),
  );
  return { ...columns, gz, isBatch: true, ...(await outlined(gz, outlines)) };
}

/** What lets a segment be read by its outlines. */
export const outlined = async (
  gz: Uint8Array<ArrayBuffer>,
  outlines: readonly Outline[],
): Promise<Required<Pick<SegmentRow, 'outlines' | 'sum'>>> => ({
  outlines: packOutlines(outlines),
  sum: await sumOf(gz),
});

const sumOf = async (gz: Uint8Array<ArrayBuffer>): Promise<Uint8Array<ArrayBuffer>> =>
  new Uint8Array(await crypto.subtle.digest('SHA-256', gz));

function hashColumns(
  hashes: readonly string[],
  signatures: readonly SignatureCheck[],
): Pick<SegmentRow, 'count' | 'hashes' | 'signatures'> {
  const bytes = new Uint8Array(hashes.length * HASH_BYTES);
  hashes.forEach((hash, i) => {
    bytes.set(hexToBytes(hash), i * HASH_BYTES);
  });
  return {
    count: hashes.length,
    hashes: bytes,
    signatures: Uint8Array.from(signatures, (signature) => CHECKS.indexOf(signature)),
  };
}

/** @throws {TypeError} when the bytes are no gzip, or end too early. */
async function unzipSegment(row: SegmentRow): Promise<string> {
  return new TextDecoder().decode(await piped(row.gz, new DecompressionStream('gzip')));
}

/**
 * The lines of a segment as they were sealed; hashes are not worked out again here.
 * @throws {Error} when the bytes do not unpack to as many lines as were sealed.
 */
export async function unpackSegment(row: SegmentRow): Promise<SealedLine[]> {
  const hashes = segmentHashes(row);
  const last = new Map<string, Before>();
  return shortLines(row, await unzipSegment(row)).map((line, i) => {
    const hash = hashes[i]!;
    const text = row.isBatch ? fullLine(line, (device) => last.get(device)) : line;
    if (text === null) throw new Error(`line ${i + 1} follows nothing`);
    if (row.isBatch) noteLast(last, text, hash);
    return { text, hash, signature: signatureAt(row, i) };
  });
}

function noteLast(last: Map<string, Before>, text: string, hash: string): void {
  const { device, seq } = JSON.parse(text) as Entry;
  last.set(device, { seq, hash });
}

/**
 * The lines of a stored segment by their outlines; null where this build did not work those out.
 * @throws {Error} when its bytes are not those that were stored.
 */
export async function soundLines(row: SegmentRow): Promise<OutlinedLine[] | null> {
  if (row.sum === undefined || !isOfThisBuild(row.outlines)) return null;
  const sum = await sumOf(row.gz);
  if (sum.some((byte, i) => byte !== row.sum![i])) throw new Error('its bytes were changed');
  return outlinedLines(row, row.outlines);
}

/** The lines of a segment whose bytes were checked. */
export function outlinedLines(row: SegmentRow, columns: OutlineColumns): OutlinedLine[] {
  const segment = new SegmentText(row);
  return unpackOutlines(columns, segmentHashes(row), (i) => signatureAt(row, i)).map(
    (outline, i) => new OutlinedLine(outline, segment, i),
  );
}

/** Puts lines into a log; their entries are read when somebody asks. */
export function addOutlined(log: Log, lines: readonly OutlinedLine[]): void {
  for (const line of lines) log.addOutlined(line.outline, line);
}

const beforeOf = ({ prev, seq }: Outline): Before | undefined =>
  prev === null ? undefined : { hash: prev, seq: seq - 1 };

function shortLines(row: SegmentRow, text: string): string[] {
  const lines = text.split('\n');
  // A batch begins with its header and ends with a line break.
  const found = row.isBatch ? lines.slice(1, -1) : lines;
  if (found.length !== row.count) throw new Error(`${found.length} lines in place of ${row.count}`);
  return found;
}

export function segmentHashes({ count, hashes }: SegmentRow): string[] {
  const hex = bytesToHex(hashes);
  return Array.from({ length: count }, (_, i) => hex.slice(2 * i * HASH_BYTES, 2 * (i + 1) * HASH_BYTES));
}

const signatureAt = ({ signatures }: SegmentRow, i: number): SignatureCheck => CHECKS[signatures[i]!] ?? 'bad';

async function piped(
  bytes: Uint8Array<ArrayBuffer>,
  through: CompressionStream | DecompressionStream,
): Promise<Uint8Array<ArrayBuffer>> {
  const stream = new Blob([bytes]).stream().pipeThrough(through);
  return new Uint8Array(await new Response(stream).arrayBuffer());
}
