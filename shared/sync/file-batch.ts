import * as z from 'zod/mini';
import { canonicalJson } from '../logbook/canonical.ts';
import { checkSignature, type Signer, type Verifier } from '../logbook/crypto.ts';
import { type Entry, type EnvelopeFault, hash, publicKey, readEntry, shortId } from '../logbook/entry.ts';
import type { SignatureCheck } from '../logbook/log.ts';
import { BATCH_ENTRIES, BATCH_LENGTH } from './limits.ts';

/**
 * What stands before the entries of a batch: how many follow, where each chain in it ends, and the signature of the
 * tablet that hands them on. Every entry of the batch must lie on a line that ends in one of these heads.
 */
export const batchHeaderSchema = z.strictObject({
  says: z.literal('batch'),
  format: z.literal(1),
  casting: shortId(),
  entries: z.int().check(z.gte(0)),
  heads: z.array(z.tuple([shortId(), z.int().check(z.gte(1)), hash()])),
  key: publicKey(),
  signature: z.string(),
});
export type BatchHeader = z.infer<typeof batchHeaderSchema>;

/** An entry on its way, with its canonical text. */
export interface CarriedLine {
  readonly text: string;
  readonly entry: Entry;
  readonly hash: string;
}

/** A line that was checked: its envelope is sound and the tablet that handed it on vouches for it. */
export interface ProvenLine extends CarriedLine {
  readonly signature: SignatureCheck;
}

export interface Batch {
  readonly header: BatchHeader;
  readonly lines: readonly string[];
}

export type BatchFault =
  | { readonly fault: 'not-a-batch' | 'cut-short' | 'header-signature' | 'other-casting' }
  | { readonly fault: 'refused'; readonly line: number; readonly why: EnvelopeFault }
  /** It is not the entry that the tablet signed for at this place, or the one after it is missing. */
  | { readonly fault: 'not-tied'; readonly device: string; readonly seq: number };

const signedText = ({ signature: _, ...rest }: BatchHeader): string => canonicalJson(rest);

/** Cuts lines into batches, each chain in its order. */
export function cut(lines: readonly CarriedLine[]): CarriedLine[][] {
  const sorted = [...lines].sort(
    (a, b) =>
      (a.entry.device < b.entry.device ? -1 : a.entry.device > b.entry.device ? 1 : 0) || a.entry.seq - b.entry.seq,
  );
  const batches: CarriedLine[][] = [];
  let length = Number.POSITIVE_INFINITY;
  for (const line of sorted) {
    if (length + line.text.length > BATCH_LENGTH || batches.at(-1)!.length >= BATCH_ENTRIES) {
      batches.push([]);
      length = 0;
    }
    batches.at(-1)!.push(line);
    length += line.text.length;
  }
  return batches;
}

/** One batch as text, a header and a line an entry, each ended by a line break. */
export async function writeBatch(casting: string, lines: readonly CarriedLine[], signer: Signer): Promise<string> {
  const followed = new Set(lines.map((l) => l.entry.prev));
  const heads = lines
    .filter((l) => !followed.has(l.hash))
    .map(({ entry, hash: head }): BatchHeader['heads'][number] => [entry.device, entry.seq, head]);
  const unsigned: BatchHeader = {
    says: 'batch',
    format: 1,
    casting,
    entries: lines.length,
    heads,
    key: signer.publicKey,
    signature: '',
  };
  const header = { ...unsigned, signature: await signer.sign(signedText(unsigned)) };
  return [canonicalJson(header), ...lines.map((l) => l.text)].map((line) => `${line}\n`).join('');
}

/** Reads batches one after the other. What comes after a fault is not read. */
export function* readBatches(text: string): Generator<Batch | BatchFault, void> {
  const lines = text.split('\n');
  // Every line is ended by a break: what stands behind the last one was cut.
  const cutOff = lines.pop() !== '';
  for (let at = 0; at < lines.length; ) {
    const header = readHeader(lines[at]!);
    if (!header) return yield { fault: 'not-a-batch' };
    const from = at + 1;
    at = from + header.entries;
    if (at > lines.length) return yield { fault: 'cut-short' };
    yield { header, lines: lines.slice(from, at) };
  }
  if (cutOff) yield { fault: lines.length === 0 ? 'not-a-batch' : 'cut-short' };
  else if (lines.length === 0) yield { fault: 'not-a-batch' };
}

function readHeader(line: string): BatchHeader | null {
  try {
    const read = batchHeaderSchema.safeParse(JSON.parse(line));
    return read.success ? read.data : null;
  } catch {
    return null;
  }
}

/** Checks a batch of a casting. What is wrong is named and left out; the rest is proven. */
export async function checkBatch(
  batch: Batch,
  casting: string,
  verifier: Verifier,
): Promise<{ proven: ProvenLine[]; faults: BatchFault[] }> {
  const { header } = batch;
  if (header.casting !== casting) return { proven: [], faults: [{ fault: 'other-casting' }] };
  if (!(await verifier.verify(header.key, header.signature, signedText({ ...header, signature: '' }))))
    return { proven: [], faults: [{ fault: 'header-signature' }] };
  const faults: BatchFault[] = [];
  const read = new Map<string, CarriedLine>();
  batch.lines.forEach((text, index) => {
    const line = readEntry(text, casting);
    if ('fault' in line) faults.push({ fault: 'refused', line: index + 1, why: line.fault });
    else read.set(line.hash, { ...line, text });
  });
  const tied = tiedTo(header, read);
  const proven: ProvenLine[] = [];
  for (const line of read.values()) {
    if (tied.has(line.hash)) proven.push({ ...line, signature: await checkSignature(line.entry, verifier) });
    else faults.push({ fault: 'not-tied', device: line.entry.device, seq: line.entry.seq });
  }
  return { proven, faults };
}

/** The lines that lead, entry by entry, to a head that the header signs. */
function tiedTo(header: BatchHeader, read: ReadonlyMap<string, CarriedLine>): Set<string> {
  const tied = new Set<string>();
  for (const [, , head] of header.heads)
    for (let at = read.get(head); at && !tied.has(at.hash); at = read.get(at.entry.prev ?? '')) tied.add(at.hash);
  return tied;
}
