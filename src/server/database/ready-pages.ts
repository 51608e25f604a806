import { promisify } from 'node:util';
import { gzip } from 'node:zlib';
import type { Kysely, Transaction } from 'kysely';
import { writeBatch } from '../../../shared/sync/batch.ts';
import { BATCH_LENGTH, PULL_ENTRIES } from '../../../shared/sync/limits.ts';
import type { PageWanted } from '../../../shared/sync/port.ts';
import { arrivedAfter } from './arrived-after.ts';
import type { Tables } from './schema.ts';

const zip = promisify(gzip);

/** Zipped once and given many times, often over a slow network: 5 % smaller than level 6. */
const LEVEL = 9;

/** Pages that one push makes at most: one that follows a restored backup must not wait for all of it. */
const MOST_AT_ONCE = 10;

/** A page of arrivals, zipped, and the number of its last entry. */
export interface ReadyPage {
  readonly gz: Buffer;
  readonly last: number;
}

/**
 * Makes the pages that have become full: what has arrived never changes, so a tablet that fetches a long log is given
 * them as they lie. Runs in the transaction of a push, behind the casting's lock.
 */
export async function makeReadyPages(change: Transaction<Tables>, casting: string, arrivals: number): Promise<void> {
  const made = await change
    .selectFrom('ready_page')
    .select((page) => page.fn.max('last').as('last'))
    .where('casting', '=', casting)
    .executeTakeFirst();
  let after = made?.last ?? 0;
  for (let page = 0; page < MOST_AT_ONCE && after + PULL_ENTRIES <= arrivals; page++)
    after = await makePage(change, casting, after);
}

async function makePage(change: Transaction<Tables>, casting: string, after: number): Promise<number> {
  const wanted = { after, without: null, mostEntries: PULL_ENTRIES, mostText: BATCH_LENGTH };
  const { entries, last } = await arrivedAfter(change, casting, wanted);
  const row = {
    casting,
    after,
    last,
    devices: [...new Set(entries.map((entry) => entry.device))].join(' '),
    length: entries.reduce((sum, { text }) => sum + text.length, 0),
    gz: await zip(writeBatch(entries), { level: LEVEL }),
  };
  await change.insertInto('ready_page').values(row).execute();
  return last;
}

/** The page that lies ready for a request; null where none does, or more or less or another was asked for. */
export async function readyPage(
  db: Kysely<Tables>,
  casting: string,
  { after, without, mostEntries, mostText }: PageWanted,
): Promise<ReadyPage | null> {
  if (mostEntries > PULL_ENTRIES) return null;
  const page = await db
    .selectFrom('ready_page')
    .select(['last', 'devices', 'length', 'gz'])
    .where('casting', '=', casting)
    .where('after', '=', after)
    .executeTakeFirst();
  if (!page || page.last - after > mostEntries || page.length > mostText) return null;
  return without !== null && page.devices.includes(without) ? null : page;
}
