import { createHash } from 'node:crypto';
import { createInterface } from 'node:readline';
import { Readable, type Writable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGunzip, createGzip } from 'node:zlib';
import type { Kysely, Transaction } from 'kysely';
import * as z from 'zod/mini';
import { readEntry } from '../../shared/logbook/entry.ts';
import type { StoredEntry } from '../../shared/sync/port.ts';
import { insertEntries } from './database/entry-store.ts';
import type { Database } from './database/open-database.ts';
import type { Tables } from './database/schema.ts';

/** The version of the file. An older build must not read a newer one as its own. */
const BACKUP_FORMAT = 1;

/** Rows that are read or written at a time. */
const PAGE = 500;

/** What a backup held, for whoever made it. */
export interface BackupCount {
  readonly entries: number;
  readonly blobs: number;
  readonly tokens: number;
}

/** A backup that must not be restored, in words for whoever tries. */
export class BackupError extends Error {}

const id = z.string().check(z.regex(/^[0-9a-f]{32}$/));
const hash = z.string().check(z.regex(/^[0-9a-f]{64}$/));
const count = z.int().check(z.gte(0));

/** The lines of the file. It opens with `backup` and closes with `end`; neither codes nor keys are in it. */
const lineSchema = z.discriminatedUnion('is', [
  z.strictObject({ is: z.literal('backup'), format: z.literal(BACKUP_FORMAT), madeAt: z.string() }),
  z.strictObject({ is: z.literal('casting'), casting: id, arrivals: count }),
  z.strictObject({ is: z.literal('entry'), casting: id, arrival: count, text: z.string() }),
  z.strictObject({
    is: z.literal('token'),
    hash,
    casting: id,
    device: id,
    createdAt: count,
    revokedAt: z.nullable(count),
  }),
  z.strictObject({ is: z.literal('blob'), casting: id, hash, size: count }),
  z.strictObject({ is: z.literal('part'), casting: id, hash, start: count, base64: z.string() }),
  z.strictObject({ is: z.literal('end'), sha256: hash, entries: count, blobs: count, tokens: count }),
]);
type Line = z.infer<typeof lineSchema>;

/**
 * Writes everything that one moment of the database holds: gzipped lines of JSON, the same from either engine. Photos
 * that have not come whole are left out, since their tablets send them again.
 * @param now milliseconds since 1970, for the first line
 */
export async function writeBackup({ db }: Database, sink: Writable, now: number): Promise<BackupCount> {
  const counts = { entries: 0, blobs: 0, tokens: 0 };
  await db
    .transaction()
    .setAccessMode('read only')
    .setIsolationLevel('repeatable read')
    .execute((moment) => pipeline(Readable.from(backupText(moment, counts, now)), createGzip(), sink));
  return counts;
}

async function* backupText(db: Kysely<Tables>, counts: { -readonly [K in keyof BackupCount]: number }, now: number) {
  const sum = createHash('sha256');
  for await (const line of backupLines(db, counts, now)) {
    const text = `${JSON.stringify(line)}\n`;
    sum.update(text);
    yield text;
  }
  yield `${JSON.stringify({ is: 'end', sha256: sum.digest('hex'), ...counts } satisfies Line)}\n`;
}

async function* backupLines(
  db: Kysely<Tables>,
  counts: { -readonly [K in keyof BackupCount]: number },
  now: number,
): AsyncGenerator<Line> {
  yield { is: 'backup', format: BACKUP_FORMAT, madeAt: new Date(now).toISOString() };
  for (const row of await db.selectFrom('casting').selectAll().orderBy('casting').execute()) {
    yield { is: 'casting', ...row };
    for await (const entry of entriesOf(db, row.casting)) {
      counts.entries += 1;
      yield entry;
    }
  }
  for (const row of await db.selectFrom('token').selectAll().orderBy('id').execute()) {
    counts.tokens += 1;
    const { hash, casting, device, created_at, revoked_at } = row;
    yield { is: 'token', hash, casting, device, createdAt: created_at, revokedAt: revoked_at };
  }
  const blobs = db.selectFrom('blob').select(['casting', 'hash', 'size']).where('complete', '=', 1);
  for (const row of await blobs.orderBy('casting').orderBy('hash').execute()) {
    counts.blobs += 1;
    yield { is: 'blob', ...row };
    yield* partsOf(db, row.casting, row.hash);
  }
}

async function* entriesOf(db: Kysely<Tables>, casting: string): AsyncGenerator<Line> {
  let after = 0;
  for (;;) {
    const page = await db
      .selectFrom('entry')
      .select(['arrival', 'text'])
      .where('casting', '=', casting)
      .where('arrival', '>', after)
      .orderBy('arrival')
      .limit(PAGE)
      .execute();
    for (const { arrival, text } of page) yield { is: 'entry', casting, arrival, text };
    if (page.length < PAGE) return;
    after = page.at(-1)!.arrival;
  }
}

async function* partsOf(db: Kysely<Tables>, casting: string, hash: string): AsyncGenerator<Line> {
  const starts = await db
    .selectFrom('blob_part')
    .select('start')
    .where('casting', '=', casting)
    .where('hash', '=', hash)
    .orderBy('start')
    .execute();
  for (const { start } of starts) {
    const part = db.selectFrom('blob_part').select('bytes').where('casting', '=', casting).where('hash', '=', hash);
    const { bytes } = await part.where('start', '=', start).executeTakeFirstOrThrow();
    yield { is: 'part', casting, hash, start, base64: bytes.toString('base64') };
  }
}

/**
 * Puts a backup into an empty database: all of it, or nothing. Every entry is hashed and every photo compared with
 * its name on the way in.
 * @throws {BackupError} when the file is damaged, cut short or not a backup, or the database is not empty
 */
export async function restoreBackup({ db }: Database, source: Readable): Promise<BackupCount> {
  return db.transaction().execute(async (change) => {
    await requireEmpty(change);
    const restore = new Restore(change);
    try {
      await pipeline(source, createGunzip(), async (unzipped: AsyncIterable<Buffer>) => {
        // A line may be long, and its number is what helps to find a damage.
        for await (const text of createInterface({
          input: Readable.from(unzipped),
          crlfDelay: Number.POSITIVE_INFINITY,
        }))
          await restore.take(text);
      });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code?.startsWith('Z_'))
        throw new BackupError('The file is damaged or cut short');
      throw error;
    }
    return restore.finished();
  });
}

async function requireEmpty(db: Kysely<Tables>): Promise<void> {
  for (const table of ['casting', 'token', 'blob'] as const) {
    const row = await db.selectFrom(table).select('casting').limit(1).executeTakeFirst();
    if (row) throw new BackupError('This database is not empty: a backup is restored into an empty one alone');
  }
}

/** One restore under way: takes the lines in their order. */
class Restore {
  private readonly sum = createHash('sha256');
  private readonly counts = { entries: 0, blobs: 0, tokens: 0 };
  /** Entries of one casting that are not written yet. */
  private entries: (StoredEntry & { casting: string; arrival: number })[] = [];
  private blob: {
    casting: string;
    hash: string;
    size: number;
    here: number;
    sum: ReturnType<typeof createHash>;
  } | null = null;
  private lines = 0;
  private ended = false;

  constructor(private readonly db: Transaction<Tables>) {}

  async take(text: string): Promise<void> {
    this.lines += 1;
    const line = this.read(text);
    if (this.ended || (this.lines === 1) !== (line.is === 'backup')) throw this.fault('it is out of place');
    if (line.is === 'end') return this.end(line);
    this.sum.update(`${text}\n`);
    if (line.is === 'entry') return this.addEntry(line);
    await this.writeEntries();
    if (line.is === 'part') return this.addPart(line);
    this.closeBlob();
    if (line.is === 'casting') await this.db.insertInto('casting').values(withoutIs(line)).execute();
    if (line.is === 'token') await this.addToken(line);
    if (line.is === 'blob') await this.openBlob(line);
  }

  finished(): BackupCount {
    if (!this.ended) throw new BackupError('The file is cut short: its last line is missing');
    return this.counts;
  }

  private read(text: string): Line {
    try {
      return lineSchema.parse(JSON.parse(text));
    } catch {
      if (this.lines === 1) throw new BackupError('The file is no backup that this version of Lehrbook can read');
      throw this.fault('it cannot be read');
    }
  }

  private async addEntry({ casting, arrival, text }: Line & { is: 'entry' }): Promise<void> {
    const read = readEntry(text, casting);
    if ('fault' in read) throw this.fault(`the entry is ${read.fault}`);
    const { device, seq, prev } = read.entry;
    this.entries.push({ casting, device, seq, hash: read.hash, prev, arrival, text });
    this.counts.entries += 1;
    if (this.entries.length === PAGE) await this.writeEntries();
  }

  private async writeEntries(): Promise<void> {
    if (this.entries.length > 0) await insertEntries(this.db, this.entries[0]!.casting, this.entries);
    this.entries = [];
  }

  private async addToken({ hash, casting, device, createdAt, revokedAt }: Line & { is: 'token' }): Promise<void> {
    this.counts.tokens += 1;
    const row = { hash, casting, device, created_at: createdAt, revoked_at: revokedAt };
    await this.db.insertInto('token').values(row).execute();
  }

  private async openBlob({ casting, hash, size }: Line & { is: 'blob' }): Promise<void> {
    this.counts.blobs += 1;
    await this.db.insertInto('blob').values({ casting, hash, size, complete: 1 }).execute();
    this.blob = { casting, hash, size, here: 0, sum: createHash('sha256') };
  }

  private async addPart({ casting, hash, start, base64 }: Line & { is: 'part' }): Promise<void> {
    const bytes = Buffer.from(base64, 'base64');
    const { blob } = this;
    if (blob?.hash !== hash || blob.casting !== casting || blob.here !== start) throw this.fault('it is out of place');
    blob.sum.update(bytes);
    blob.here += bytes.length;
    await this.db.insertInto('blob_part').values({ casting, hash, start, bytes }).execute();
  }

  private closeBlob(): void {
    const { blob } = this;
    if (blob && (blob.here !== blob.size || blob.sum.digest('hex') !== blob.hash))
      throw this.fault('the photo before it does not fit its name');
    this.blob = null;
  }

  private async end(line: Line & { is: 'end' }): Promise<void> {
    await this.writeEntries();
    this.closeBlob();
    const { is: _, sha256, ...counts } = line;
    const same = Object.entries(counts).every(([what, n]) => this.counts[what as keyof BackupCount] === n);
    if (sha256 !== this.sum.digest('hex') || !same) throw new BackupError('The file is damaged: its sum does not fit');
    this.ended = true;
  }

  private fault(why: string): BackupError {
    return new BackupError(`Line ${this.lines} of the file is damaged: ${why}`);
  }
}

function withoutIs<T extends { is: string }>({ is: _, ...rest }: T): Omit<T, 'is'> {
  return rest;
}
