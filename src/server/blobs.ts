import { createHash } from 'node:crypto';
import type { Kysely, Transaction } from 'kysely';
import type { Tables } from './database/schema.ts';

/** How far a photo or logger file has come. */
export interface BlobState {
  /** Bytes of the whole. */
  readonly size: number;
  /** Bytes that are here, from the start. */
  readonly here: number;
  /** All of it is here, and its SHA-256 is its name. */
  readonly complete: boolean;
}

export type BlobFault = 'gap' | 'other-size' | 'wrong-hash';

/** Bytes of one row: a part that is read or written is never larger in memory. */
const ROW_BYTES = 262_144;

/** How far a blob has come; null when nothing of it is here. */
export async function blobState(db: Kysely<Tables>, casting: string, hash: string): Promise<BlobState | null> {
  const row = await db
    .selectFrom('blob')
    .select(['size', 'complete'])
    .where('casting', '=', casting)
    .where('hash', '=', hash)
    .executeTakeFirst();
  if (!row) return null;
  if (row.complete === 1) return { size: row.size, here: row.size, complete: true };
  return { size: row.size, here: await bytesHere(db, casting, hash), complete: false };
}

/**
 * Adds a part. Sent again, it changes nothing; a part that overlaps what is here adds only what is new. With the last
 * byte the whole is hashed: what does not fit its name is dropped.
 * @param start where in the whole the part begins
 * @param size bytes of the whole
 */
export async function addPart(
  db: Kysely<Tables>,
  blob: { readonly casting: string; readonly hash: string; readonly start: number; readonly size: number },
  bytes: Buffer,
): Promise<BlobState | { readonly fault: BlobFault; readonly here: number }> {
  const { casting, hash, start, size } = blob;
  return db.transaction().execute(async (change) => {
    const row = await lockedRow(change, casting, hash, size);
    if (row.size !== size) return { fault: 'other-size', here: 0 };
    if (row.complete === 1) return { size, here: size, complete: true };
    const before = await bytesHere(change, casting, hash);
    if (start > before) return { fault: 'gap', here: before };
    const fresh = bytes.subarray(before - start);
    for (let at = 0; at < fresh.length; at += ROW_BYTES) {
      const part = fresh.subarray(at, at + ROW_BYTES);
      await change
        .insertInto('blob_part')
        .values({ casting, hash, start: before + at, bytes: part })
        .execute();
    }
    const here = before + fresh.length;
    if (here < size) return { size, here, complete: false };
    if ((await hashOfParts(change, casting, hash)) !== hash) {
      await drop(change, casting, hash);
      return { fault: 'wrong-hash', here: 0 };
    }
    await change
      .updateTable('blob')
      .set({ complete: 1 })
      .where('casting', '=', casting)
      .where('hash', '=', hash)
      .execute();
    return { size, here, complete: true };
  });
}

/** The bytes of a blob from `from` up to, not including, `to`. */
export async function* blobBytes(
  db: Kysely<Tables>,
  casting: string,
  hash: string,
  from: number,
  to: number,
): AsyncGenerator<Buffer> {
  for (let at = from; at < to; ) {
    const part = await db
      .selectFrom('blob_part')
      .select(['start', 'bytes'])
      .where('casting', '=', casting)
      .where('hash', '=', hash)
      .where('start', '<=', at)
      .orderBy('start', 'desc')
      .executeTakeFirst();
    const bytes = part?.bytes.subarray(at - part.start, to - part.start);
    // The size was read before: a part that is missing now is damage, and must not look like an end.
    if (!bytes?.length) throw new Error(`A part of blob ${hash} is missing at ${at}`);
    yield bytes;
    at += bytes.length;
  }
}

/** The row of a blob, made when it is new, held against others until the transaction ends. */
async function lockedRow(change: Transaction<Tables>, casting: string, hash: string, size: number) {
  await change
    .insertInto('blob')
    .values({ casting, hash, size, complete: 0 })
    .onConflict((c) => c.columns(['casting', 'hash']).doUpdateSet({ hash }))
    .execute();
  return change
    .selectFrom('blob')
    .select(['size', 'complete'])
    .where('casting', '=', casting)
    .where('hash', '=', hash)
    .executeTakeFirstOrThrow();
}

async function bytesHere(db: Kysely<Tables>, casting: string, hash: string): Promise<number> {
  const last = await db
    .selectFrom('blob_part')
    .select(({ fn, ref }) => ['start', fn<number>('length', [ref('bytes')]).as('length')])
    .where('casting', '=', casting)
    .where('hash', '=', hash)
    .orderBy('start', 'desc')
    .executeTakeFirst();
  return last ? last.start + last.length : 0;
}

async function hashOfParts(db: Kysely<Tables>, casting: string, hash: string): Promise<string> {
  const sum = createHash('sha256');
  const size = await bytesHere(db, casting, hash);
  for await (const bytes of blobBytes(db, casting, hash, 0, size)) sum.update(bytes);
  return sum.digest('hex');
}

async function drop(change: Transaction<Tables>, casting: string, hash: string): Promise<void> {
  for (const table of ['blob_part', 'blob'] as const) {
    await change.deleteFrom(table).where('casting', '=', casting).where('hash', '=', hash).execute();
  }
}
