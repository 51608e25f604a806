import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PULL_ENTRIES } from '../../shared/sync/limits.ts';
import { servePull } from '../../shared/sync/serve.ts';
import { DatabaseEntryStore } from '../../src/server/database/entry-store.ts';
import { type Database, openDatabase } from '../../src/server/database/open-database.ts';
import { idOf, type Link, TestChain } from './chains.ts';
import { engines, settingsOf } from './engines.ts';

const MANY = 1_000_000;

describe.each(engines())('the store of entries, on $name', (engine) => {
  let world: Record<string, string>;
  const opened: Database[] = [];
  /** Connections of its own are what the database sees of a process; SQLite has one process alone. */
  const process = async (): Promise<DatabaseEntryStore> => {
    if (opened.length > 0 && !engine.shared) return store;
    const database = await openDatabase(settingsOf(world));
    opened.push(database);
    return new DatabaseEntryStore(database);
  };
  let store: DatabaseEntryStore;
  beforeAll(async () => {
    await engine.start();
    world = await engine.emptyWorld();
    store = await process();
  });
  afterAll(async () => {
    for (const database of opened) await database.close();
    await engine.stop();
  });

  const kept = async (casting: string, from = store) =>
    texts((await pageOf(casting, 0, MANY, MANY * 1000, from)).entries);
  const pageOf = (casting: string, after: number, mostEntries: number, mostText: number, from = store) =>
    from.arrivedAfter(casting, { after, without: null, mostEntries, mostText });
  const texts = (links: readonly Pick<Link, 'text'>[]) => links.map((l) => l.text);

  it('is made once by processes that start together on an empty database', async () => {
    if (!engine.shared) return expect(opened).toHaveLength(1);
    const settings = settingsOf(await engine.emptyWorld());
    const together = await Promise.all([1, 2, 3].map(() => openDatabase(settings)));
    opened.push(...together);
    const versions = await together[0]!.db.selectFrom('schema_version').selectAll().execute();
    expect(versions).toHaveLength(1);
  });

  it('gives back every entry byte for byte, in the order of arrival', async () => {
    const casting = idOf('bytes');
    const chain = new TestChain(casting, 'one');
    const links = [...chain.grow(3), ...chain.grow(2, 'Ofen läuft, 5 °C über Plan … “gut” 𝛼 \\ " \u2028')];
    expect(await store.append(casting, links)).toEqual({ added: 5 });
    expect(await kept(casting)).toEqual(texts(links));
    expect(await store.heads(casting)).toEqual({ [chain.device]: [[5, links[4]!.hash]] });
  });

  it('keeps an entry once, however often it comes', async () => {
    const casting = idOf('again');
    const links = new TestChain(casting, 'one').grow(10);
    await store.append(casting, links.slice(0, 6));
    expect(await store.append(casting, links)).toEqual({ added: 4 });
    expect(await store.append(casting, links)).toEqual({ added: 0 });
    expect(await store.append(casting, [links[3]!, links[3]!])).toEqual({ added: 0 });
    expect(await kept(casting)).toEqual(texts(links));
  });

  it('keeps more in one push than a statement holds', async () => {
    const casting = idOf('many');
    const links = new TestChain(casting, 'one').grow(2501);
    expect(await store.append(casting, links)).toEqual({ added: 2501 });
    expect(await kept(casting)).toEqual(texts(links));
  });

  it('keeps nothing of a push in which an entry hangs in the air', async () => {
    const casting = idOf('gap');
    const links = new TestChain(casting, 'one').grow(5);
    await store.append(casting, links.slice(0, 2));
    const other = new TestChain(casting, 'other').grow(2);
    expect(await store.append(casting, [...other, ...links.slice(3)])).toEqual({ gap: links[3] });
    expect(await kept(casting)).toEqual(texts(links.slice(0, 2)));
    expect(await store.append(casting, [other[1]!])).toEqual({ gap: other[1] });
    expect(await store.append(idOf('gap alone'), [other[1]!])).toEqual({ gap: other[1] });
    const castings = await opened[0]!.db.selectFrom('casting').select('casting').execute();
    expect(castings.map((c) => c.casting)).not.toContain(idOf('gap alone'));
  });

  it('takes no entry of one chain for the one before an entry of another', async () => {
    const casting = idOf('crossed');
    const one = new TestChain(casting, 'one').grow(1);
    await store.append(casting, one);
    const crossed = { ...new TestChain(casting, 'two').grow(2)[1]!, prev: one[0]!.hash };
    expect(await store.append(casting, [crossed])).toEqual({ gap: crossed });
  });

  it('keeps both branches of a fork, and names both tips until each goes on', async () => {
    const casting = idOf('fork');
    const chain = new TestChain(casting, 'one');
    chain.grow(3);
    const copied = chain.forkedAfter(3);
    const [ours, theirs] = [chain.grow(2), copied.grow(4, 'Written on the copy')];
    await store.append(casting, chain.links);
    expect(await store.append(casting, theirs)).toEqual({ added: 4 });
    expect(await store.heads(casting)).toEqual({
      [chain.device]: [
        [7, theirs[3]!.hash],
        [5, ours[1]!.hash],
      ],
    });
    await store.append(casting, chain.grow(1));
    expect((await store.heads(casting))[chain.device]).toEqual([
      [7, theirs[3]!.hash],
      [6, chain.links[5]!.hash],
    ]);
    expect(await kept(casting)).toHaveLength(10);
  });

  it('keeps castings apart', async () => {
    const [one, two] = [idOf('apart 1'), idOf('apart 2')];
    await store.append(one, new TestChain(one, 'same').grow(2));
    await store.append(two, new TestChain(two, 'same').grow(3));
    expect([await kept(one), await kept(two)].map((l) => l.length)).toEqual([2, 3]);
    expect(await store.heads(idOf('none'))).toEqual({});
    expect(await pageOf(idOf('none'), 0, 10, 10)).toEqual({ entries: [], last: 0, count: 0 });
  });

  it('gives pages of as many entries and as much text as asked, and always one', async () => {
    const casting = idOf('pages');
    const links = new TestChain(casting, 'one').grow(10);
    await store.append(casting, links);
    expect(await pageOf(casting, 0, 4, MANY)).toEqual({
      entries: links.slice(0, 4),
      last: 4,
      count: 10,
    });
    const room = links[4]!.text.length + links[5]!.text.length;
    expect((await pageOf(casting, 4, 10, room)).last).toBe(6);
    expect((await pageOf(casting, 4, 10, room - 1)).last).toBe(5);
    expect((await pageOf(casting, 9, 10, 1)).entries).toEqual([links[9]!]);
  });

  it('leaves out the chain of who asks, and counts it as looked at', async () => {
    const casting = idOf('without');
    const [own, other] = [new TestChain(casting, 'own'), new TestChain(casting, 'other')];
    for (const links of [own.grow(3), other.grow(2), own.grow(4)]) await store.append(casting, links);
    const page = (after: number, mostEntries: number) =>
      store.arrivedAfter(casting, { after, without: own.device, mostEntries, mostText: MANY });
    expect(await page(0, 10)).toEqual({ entries: other.links, last: 9, count: 9 });
    expect(await page(0, 1)).toEqual({ entries: other.links.slice(0, 1), last: 4, count: 9 });
    expect(await page(4, 2)).toEqual({ entries: other.links.slice(1), last: 9, count: 9 });
    expect(await page(5, 10)).toEqual({ entries: [], last: 9, count: 9 });
  });

  it('keeps full pages ready, which hold what a page that is zipped now would', async () => {
    const casting = idOf('ready');
    const [one, two] = [new TestChain(casting, 'one'), new TestChain(casting, 'two')];
    for (const links of [one.grow(PULL_ENTRIES - 1), one.grow(2), two.grow(PULL_ENTRIES), one.grow(1)])
      await store.append(casting, links);
    const wanted = (after: number, without: string | null = null) => ({
      after,
      without,
      mostEntries: PULL_ENTRIES,
      mostText: MANY * 1000,
    });
    for (const after of [0, PULL_ENTRIES]) {
      const ready = await store.readyAfter(casting, wanted(after));
      const { text, ...page } = await servePull(store, casting, wanted(after));
      expect(gunzipSync(ready!.gz).toString()).toBe(text);
      expect({ last: ready!.last, count: ready!.count }).toEqual(page);
    }
    // Not full yet; between two; with a chain that is to be left out; longer than is taken.
    expect(await store.readyAfter(casting, wanted(2 * PULL_ENTRIES))).toBeNull();
    expect(await store.readyAfter(casting, wanted(1))).toBeNull();
    expect(await store.readyAfter(casting, wanted(PULL_ENTRIES, two.device))).toBeNull();
    expect(await store.readyAfter(casting, wanted(0, two.device))).not.toBeNull();
    expect(await store.readyAfter(casting, { ...wanted(0), mostEntries: PULL_ENTRIES - 1 })).toBeNull();
    expect(await store.readyAfter(casting, { ...wanted(0), mostText: 1000 })).toBeNull();
  });

  it('makes the pages that a restored backup lacks with the next pushes', async () => {
    const casting = idOf('restored');
    const chain = new TestChain(casting, 'one');
    await store.append(casting, chain.grow(2 * PULL_ENTRIES));
    await opened[0]!.db.deleteFrom('ready_page').where('casting', '=', casting).execute();
    await store.append(casting, chain.grow(1));
    const pages = await opened[0]!.db
      .selectFrom('ready_page')
      .select(['after', 'last'])
      .where('casting', '=', casting)
      .orderBy('after')
      .execute();
    expect(pages).toEqual([
      { after: 0, last: PULL_ENTRIES },
      { after: PULL_ENTRIES, last: 2 * PULL_ENTRIES },
    ]);
  });

  it('takes pushes of many tablets through two processes at once: each entry once, and numbers without a gap', async () => {
    const casting = idOf('two processes');
    const stores = [store, await process()];
    const chains = Array.from({ length: 6 }, (_, i) => new TestChain(casting, `tablet ${i}`));
    for (const chain of chains) chain.grow(60);
    // Each tablet sends every batch through both, as one does that had no answer.
    await Promise.all(
      chains.flatMap((chain) =>
        stores.map(async (to) => {
          for (let at = 0; at < 60; at += 7) await to.append(casting, chain.links.slice(0, at + 7));
        }),
      ),
    );
    const rows = await opened[0]!.db
      .selectFrom('entry')
      .select(['arrival', 'hash'])
      .where('casting', '=', casting)
      .execute();
    expect(rows.map((r) => r.arrival).sort((a, b) => a - b)).toEqual(Array.from({ length: 360 }, (_, i) => i + 1));
    expect(new Set(rows.map((r) => r.hash)).size).toBe(360);
    for (const to of stores)
      expect(await to.heads(casting)).toEqual(
        Object.fromEntries(chains.map((c) => [c.device, [[60, c.links[59]!.hash]]])),
      );
  });

  it('shows a reader no number before all below it are there', async () => {
    const casting = idOf('reader');
    const stores = [store, await process()];
    const chains = [new TestChain(casting, 'one'), new TestChain(casting, 'two')];
    const reader = await process();
    let writing = true;
    const writers = Promise.all(
      chains.map(async (chain, i) => {
        for (let n = 0; n < 40; n++) await stores[i]!.append(casting, chain.grow(3));
      }),
    ).then(() => {
      writing = false;
    });
    const read: string[] = [];
    let last = 0;
    do {
      const page = await pageOf(casting, last, 50, MANY, reader);
      read.push(...texts(page.entries));
      last = page.last;
    } while (writing || last < 240);
    await writers;
    expect(read).toHaveLength(240);
    expect(read).toEqual(await kept(casting));
  });

  it('keeps both when two processes bring two entries of one identity at once: a fork', async () => {
    const casting = idOf('fork at once');
    const stores = [store, await process()];
    const chain = new TestChain(casting, 'one');
    chain.grow(1);
    const copied = chain.forkedAfter(1);
    await store.append(casting, chain.links);
    chain.grow(1);
    copied.grow(1, 'Written on the copy');
    await Promise.all([stores[0]!.append(casting, chain.links), stores[1]!.append(casting, copied.links)]);
    expect((await store.heads(casting))[chain.device]).toHaveLength(2);
  });
});
