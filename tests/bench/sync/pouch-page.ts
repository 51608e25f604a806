import type { Database, DatabaseClass } from 'pouchdb';
import type { First, Opened, PagePart } from './page-part.ts';

/** The page has the vendor's own scripts before this one. */
declare const PouchDB: DatabaseClass;

const BATCH = 1_000;

/** One answer of the last document, and how many there are. */
async function ask(db: Database): Promise<Pick<First, 'entries' | 'answers'>> {
  const { doc_count } = await db.info();
  return { entries: doc_count, answers: doc_count > 0 ? 1 : 0 };
}

const part: PagePart = {
  async first(): Promise<First> {
    const db = new PouchDB('entries', { adapter: 'indexeddb' });
    await db.info();
    const from = performance.now();
    await db.replicate.from(`${location.origin}/db/entries`, { batch_size: BATCH });
    const found = await ask(db);
    return { ms: performance.now() - from, ...found };
  },

  async again(): Promise<Opened> {
    const from = performance.now();
    const db = new PouchDB('entries', { adapter: 'indexeddb' });
    const found = await ask(db);
    const ms = performance.now() - from;
    return { ms, ready_ms: ms, ...found };
  },
};

Object.assign(globalThis, { bench: part });
