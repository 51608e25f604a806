import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js';
import type { SignatureCheck } from '../../../shared/logbook/log.ts';
import type { EntryRow, SegmentRow } from './database.ts';

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

/** Packs rows of the tail into one row. Canonical JSON holds no line breaks, so that a line is an entry. */
export async function packSegment(
  rows: readonly EntryRow[],
  signatureOf: (hash: string) => SignatureCheck,
): Promise<SegmentRow> {
  const hashes = new Uint8Array(rows.length * HASH_BYTES);
  rows.forEach((row, i) => {
    hashes.set(hexToBytes(row.hash), i * HASH_BYTES);
  });
  return {
    count: rows.length,
    hashes,
    signatures: Uint8Array.from(rows, (row) => CHECKS.indexOf(signatureOf(row.hash))),
    gz: await piped(new TextEncoder().encode(rows.map((r) => r.text).join('\n')), new CompressionStream('gzip')),
  };
}

/**
 * The lines of a segment as they were sealed; hashes are not worked out again here.
 * @throws {Error} when the bytes do not unpack to as many lines as were sealed.
 */
export async function unpackSegment(row: SegmentRow): Promise<SealedLine[]> {
  const texts = new TextDecoder().decode(await piped(row.gz, new DecompressionStream('gzip'))).split('\n');
  if (texts.length !== row.count) throw new Error(`${texts.length} lines in place of ${row.count}`);
  return texts.map((text, i) => ({
    text,
    hash: bytesToHex(row.hashes.subarray(i * HASH_BYTES, (i + 1) * HASH_BYTES)),
    signature: CHECKS[row.signatures[i]!] ?? 'bad',
  }));
}

async function piped(
  bytes: Uint8Array<ArrayBuffer>,
  through: CompressionStream | DecompressionStream,
): Promise<Uint8Array<ArrayBuffer>> {
  const stream = new Blob([bytes]).stream().pipeThrough(through);
  return new Uint8Array(await new Response(stream).arrayBuffer());
}
