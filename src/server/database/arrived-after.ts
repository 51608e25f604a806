import type { Kysely } from 'kysely';
import type { Page, PageWanted } from '../../../shared/sync/port.ts';
import type { Tables } from './schema.ts';

/** How many entries of a casting have arrived. */
export async function arrivalsOf(db: Kysely<Tables>, casting: string): Promise<number> {
  const row = await db.selectFrom('casting').select('arrivals').where('casting', '=', casting).executeTakeFirst();
  return row?.arrivals ?? 0;
}

/** Entries in the order in which they arrived here: at least one when there is one. */
export async function arrivedAfter(
  db: Kysely<Tables>,
  casting: string,
  { after, without, mostEntries, mostText }: PageWanted,
): Promise<Page> {
  const arrivals = await arrivalsOf(db, casting);
  const rows = await db
    .selectFrom('entry')
    .select(['arrival', 'device', 'seq', 'hash', 'prev', 'text'])
    .where('casting', '=', casting)
    .where('arrival', '>', after)
    .$if(without !== null, (query) => query.where('device', '!=', without!))
    .orderBy('arrival')
    .limit(mostEntries)
    .execute();
  const page = rows.slice(0, fitting(rows, mostText));
  const last = page.at(-1)?.arrival ?? after;
  // Numbers become visible in their order: when nothing was cut off, all up to those counted before have been seen.
  const whole = page.length === rows.length && rows.length < mostEntries;
  const seen = whole ? Math.max(last, arrivals) : last;
  return {
    entries: page.map(({ arrival: _, ...entry }) => entry),
    last: seen,
    count: Math.max(arrivals, last),
  };
}

/** How many of the rows have room in so much text; at least one. */
function fitting(rows: readonly { readonly text: string }[], mostText: number): number {
  let room = mostText;
  const over = rows.findIndex(({ text }, i) => {
    room -= text.length;
    return room < 0 && i > 0;
  });
  return over < 0 ? rows.length : over;
}
