import { IndexeddbPersistence } from 'y-indexeddb';
import * as Y from 'yjs';
import type { First, Opened, PagePart } from './page-part.ts';

const NAME = 'entries';

/** y-indexeddb tells nobody when it has written: a transaction over the same store ends after it. */
async function written(kept: IndexeddbPersistence): Promise<number> {
  const { db } = kept as unknown as { db: IDBDatabase };
  return new Promise((resolve, reject) => {
    const count = db.transaction('updates', 'readwrite').objectStore('updates').count();
    count.onsuccess = () => resolve(count.result);
    count.onerror = () => reject(count.error);
  });
}

const ask = (doc: Y.Doc): Pick<First, 'entries' | 'answers'> => {
  const list = doc.getArray(NAME);
  return { entries: list.length, answers: list.length > 0 && list.get(list.length - 1) ? 1 : 0 };
};

const part: PagePart = {
  async first(): Promise<First> {
    const doc = new Y.Doc();
    const kept = new IndexeddbPersistence(NAME, doc);
    await kept.whenSynced;
    const from = performance.now();
    const response = await fetch('/update');
    Y.applyUpdate(doc, new Uint8Array(await response.arrayBuffer()));
    await written(kept);
    const found = ask(doc);
    return { ms: performance.now() - from, ...found };
  },

  async again(): Promise<Opened> {
    const from = performance.now();
    const doc = new Y.Doc();
    await new IndexeddbPersistence(NAME, doc).whenSynced;
    const found = ask(doc);
    const ms = performance.now() - from;
    return { ms, ready_ms: ms, ...found };
  },
};

Object.assign(globalThis, { bench: part });
