import type { Kysely, Transaction } from 'kysely';
import type { Head } from '../../../shared/logbook/entry.ts';
import type { Database } from './open-database.ts';
import type { Tables } from './schema.ts';

/** An entry that passed the checks of the protocol, as the database keeps it. */
export interface StoredEntry {
  readonly device: string;
  readonly seq: number;
  readonly hash: string;
  readonly prev: string | null;
  /** Its canonical text. */
  readonly text: string;
}

/** Rows of one statement: SQLite takes 32,766 values, PostgreSQL 65,535. */
const ROWS = 1000;

/**
 * The entries of all castings. One push is one transaction: it is kept whole, or not at all. Pushes of one casting
 * queue at its row, whichever process they came to, so what one sees of the chains stays so until it is done.
 */
export class DatabaseEntryStore {
  private readonly db: Kysely<Tables>;

  constructor(database: Database) {
    this.db = database.db;
  }

  /** The tips of each chain: one, or several where it forks. */
  async heads(casting: string): Promise<Record<string, Head[]>> {
    const rows = await this.db
      .selectFrom('head')
      .select(['device', 'seq', 'hash'])
      .where('casting', '=', casting)
      .orderBy('device')
      .orderBy('seq', 'desc')
      .orderBy('hash')
      .execute();
    const heads: Record<string, Head[]> = {};
    for (const { device, seq, hash } of rows) heads[device] = [...(heads[device] ?? []), [seq, hash]];
    return heads;
  }

  /**
   * Keeps entries that are not here yet, and the tips that they make.
   * @param entries each with the entry before it here already, or before it in the list
   * @returns how many were new; the others were here already, byte for byte
   */
  async append(casting: string, entries: readonly StoredEntry[]): Promise<number> {
    if (entries.length === 0) return 0;
    return this.db.transaction().execute(async (change) => {
      const arrivals = await lockCasting(change, casting);
      const fresh = await notHere(change, casting, entries);
      await insertEntries(
        change,
        casting,
        fresh.map((entry, i) => ({ ...entry, arrival: arrivals + i + 1 })),
      );
      await change
        .updateTable('casting')
        .set({ arrivals: arrivals + fresh.length })
        .where('casting', '=', casting)
        .execute();
      return fresh.length;
    });
  }
}

/** Writes entries that are not here, and the tips that they make; for restoring, with the numbers that they had. */
export async function insertEntries(
  change: Transaction<Tables>,
  casting: string,
  entries: readonly (StoredEntry & { readonly arrival: number })[],
): Promise<void> {
  for (const part of parts(entries)) {
    await change
      .insertInto('entry')
      .values(part.map((entry) => ({ casting, ...entry })))
      .execute();
  }
  await moveHeads(change, casting, entries);
}

/** Holds the casting's row, made when it is new, until the transaction ends. Gives how many entries have arrived. */
async function lockCasting(change: Transaction<Tables>, casting: string): Promise<number> {
  const { arrivals } = await change
    .insertInto('casting')
    .values({ casting, arrivals: 0 })
    .onConflict((c) => c.column('casting').doUpdateSet({ casting }))
    .returning('arrivals')
    .executeTakeFirstOrThrow();
  return arrivals;
}

async function notHere(
  change: Transaction<Tables>,
  casting: string,
  entries: readonly StoredEntry[],
): Promise<StoredEntry[]> {
  const here = new Set<string>();
  for (const part of parts(entries)) {
    const rows = await change
      .selectFrom('entry')
      .select('hash')
      .where('casting', '=', casting)
      .where('device', 'in', [...new Set(part.map((e) => e.device))])
      .where('seq', 'in', [...new Set(part.map((e) => e.seq))])
      .where(
        'hash',
        'in',
        part.map((e) => e.hash),
      )
      .execute();
    for (const { hash } of rows) here.add(hash);
  }
  const fresh = new Map(entries.filter((e) => !here.has(e.hash)).map((e) => [e.hash, e]));
  return [...fresh.values()];
}

async function moveHeads(change: Transaction<Tables>, casting: string, fresh: readonly StoredEntry[]): Promise<void> {
  const followed = new Set(fresh.map((e) => e.prev).filter((prev) => prev !== null));
  for (const part of parts([...followed])) {
    await change.deleteFrom('head').where('casting', '=', casting).where('hash', 'in', part).execute();
  }
  const tips = fresh.filter((e) => !followed.has(e.hash));
  for (const part of parts(tips.map(({ device, seq, hash }) => ({ casting, device, seq, hash })))) {
    await change.insertInto('head').values(part).execute();
  }
}

function* parts<T>(list: readonly T[]): Generator<readonly T[]> {
  for (let at = 0; at < list.length; at += ROWS) yield list.slice(at, at + ROWS);
}
