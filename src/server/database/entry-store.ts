import type { Kysely, Transaction } from 'kysely';
import type { Head } from '../../../shared/logbook/entry.ts';
import type { Page, PageWanted, ServerStore, StoredEntry } from '../../../shared/sync/port.ts';
import { arrivalsOf, arrivedAfter } from './arrived-after.ts';
import type { Database } from './open-database.ts';
import { makeReadyPages, type ReadyPage, readyPage } from './ready-pages.ts';
import type { Tables } from './schema.ts';

/** Rows of one statement: SQLite takes 32,766 values, PostgreSQL 65,535. */
const ROWS = 1000;

/**
 * The entries of all castings. One push is one transaction: it is kept whole, or not at all. Pushes of one casting
 * queue at its row, whichever process they came to, so what one sees of the chains stays so until it is done.
 */
export class DatabaseEntryStore implements ServerStore {
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
   * Keeps entries that are not here yet, and the tips that they make. Nothing is kept when one of them hangs in the
   * air: when the entry before it is neither here nor before it in the list.
   * @returns how many were new (the others were here already, byte for byte), or the entry that hangs
   */
  async append(casting: string, entries: readonly StoredEntry[]): Promise<{ added: number } | { gap: StoredEntry }> {
    if (entries.length === 0) return { added: 0 };
    try {
      return await this.db.transaction().execute((change) => added(change, casting, entries));
    } catch (error) {
      if (error instanceof Hanging) return { gap: error.entry };
      throw error;
    }
  }

  /** Entries in the order in which they arrived here: at least one when there is one. */
  arrivedAfter(casting: string, wanted: PageWanted): Promise<Page> {
    return arrivedAfter(this.db, casting, wanted);
  }

  /** The same as a zipped batch, where that lies ready; `count` is how many have arrived in all. */
  async readyAfter(casting: string, wanted: PageWanted): Promise<(ReadyPage & { readonly count: number }) | null> {
    const page = await readyPage(this.db, casting, wanted);
    return page && { ...page, count: await arrivalsOf(this.db, casting) };
  }
}

/** Undoes a push in which an entry hangs in the air. */
class Hanging extends Error {
  constructor(readonly entry: StoredEntry) {
    super('An entry before it is missing');
  }
}

async function added(
  change: Transaction<Tables>,
  casting: string,
  entries: readonly StoredEntry[],
): Promise<{ added: number }> {
  const arrivals = await lockCasting(change, casting);
  const here = await hashesHere(change, casting, entries);
  const fresh: (StoredEntry & { arrival: number })[] = [];
  for (const entry of entries) {
    if (here.has(entry.hash)) continue;
    const before = entry.prev === null ? '' : here.get(entry.prev);
    if (before !== (entry.seq === 1 ? '' : `${entry.device}/${entry.seq - 1}`)) throw new Hanging(entry);
    here.set(entry.hash, `${entry.device}/${entry.seq}`);
    fresh.push({ ...entry, arrival: arrivals + fresh.length + 1 });
  }
  await insertEntries(change, casting, fresh);
  await change
    .updateTable('casting')
    .set({ arrivals: arrivals + fresh.length })
    .where('casting', '=', casting)
    .execute();
  await makeReadyPages(change, casting, arrivals + fresh.length);
  return { added: fresh.length };
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

/** Of these entries and the ones before them, those that are here: hash to device and seq. */
async function hashesHere(
  change: Transaction<Tables>,
  casting: string,
  entries: readonly StoredEntry[],
): Promise<Map<string, string>> {
  const here = new Map<string, string>();
  const asked = new Set(entries.flatMap((e) => (e.prev === null ? [e.hash] : [e.hash, e.prev])));
  for (const part of parts([...asked])) {
    const rows = await change
      .selectFrom('entry')
      .select(['hash', 'device', 'seq'])
      .where('casting', '=', casting)
      .where('hash', 'in', part)
      .execute();
    for (const { hash, device, seq } of rows) here.set(hash, `${device}/${seq}`);
  }
  return here;
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
