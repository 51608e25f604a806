import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { canonicalJson } from '../../shared/logbook/canonical.ts';
import { castingId } from '../../shared/logbook/entry.ts';
import type { Body } from '../../shared/logbook/kinds.ts';
import { CastingStore, type SignedAct } from '../../src/tablet/storage/casting-store.ts';
import { makeTabletKey } from '../../src/tablet/storage/keys.ts';
import { proveChains } from '../../src/tablet/storage/prove.ts';
import { smallPlan } from '../logbook/small-plan.ts';
import { genesisBody, lead, reading, technician } from '../logbook/world.ts';

const at = '2026-03-01T06:00:00+00:00';
const act = (kind: SignedAct['kind'], body: unknown): SignedAct => ({
  kind,
  body: body as never,
  by: lead.id,
  observedAt: at,
  recordedAt: at,
});
const note = (i: number): SignedAct => act('note', { text: `note ${i}` });

let count = 0;
const quiet = (): void => undefined;

async function newStore(): Promise<CastingStore> {
  const key = await makeTabletKey();
  count += 1;
  const body: Body<'genesis'> = {
    ...genesisBody('T1'),
    nonce: `n${count}`,
    device: { name: 'T1', key: key.publicKey },
  };
  const store = await CastingStore.create(castingId(body), key, quiet);
  await store.save([act('genesis', body), act('plan', { plan: JSON.parse(canonicalJson(smallPlan)), parents: [] })]);
  return store;
}

const textsOf = (store: CastingStore): string[] => [...store.log.all()].map((k) => canonicalJson(k.entry)).sort();

describe('the store of a casting', () => {
  let store: CastingStore;

  beforeEach(async () => {
    store = await newStore();
  });
  afterEach(() => store.close());

  it('gives back after opening what was saved', async () => {
    await store.save([act('reading', reading('a', 100, technician))]);
    const again = await CastingStore.open(store.db.casting, quiet);
    expect(textsOf(again)).toEqual(textsOf(store));
    expect(again.log.head(again.device)).toEqual(store.log.head(store.device));
    again.close();
  });

  it('seals the oldest of a long tail and keeps every entry, in the tail or in a segment', async () => {
    await store.save(Array.from({ length: 1300 }, (_, i) => note(i)));
    await store.seal();
    expect([await store.db.segments.count(), await store.db.tail.count()]).toEqual([2, 302]);
    await store.save([note(9999)]);
    const again = await CastingStore.open(store.db.casting, quiet);
    expect(again.log.size).toBe(1303);
    expect(textsOf(again)).toEqual(textsOf(store));
    expect(await proveChains(again.db, quiet)).toMatchObject({ entries: 1303, faults: [] });
    again.close();
  });

  it('names a changed byte in a sealed segment, and the rest stays usable', async () => {
    await store.save(Array.from({ length: 1300 }, (_, i) => note(i)));
    await store.seal();
    const row = (await store.db.segments.toArray())[1]!;
    const gz = Uint8Array.from(row.gz);
    gz[Math.floor(gz.length / 2)]! ^= 1;
    await store.db.segments.put({ ...row, gz });
    const again = await CastingStore.open(store.db.casting, quiet);
    expect(again.damaged).toMatchObject([{ place: `segment ${row.n}, 500 entries` }]);
    expect(again.log.size).toBe(802);
    const { faults } = await proveChains(again.db, quiet);
    expect(faults[0]).toContain(`segment ${row.n}`);
    // Its own chain goes on from the head that the chain row keeps.
    await again.save([note(5000)]);
    expect(await again.db.tail.count()).toBe(303);
    again.close();
  });

  it('names a line that was changed and packed again', async () => {
    await store.save(Array.from({ length: 700 }, (_, i) => note(i)));
    await store.seal();
    const { packSegment, unpackSegment } = await import('../../src/tablet/storage/segments.ts');
    const row = (await store.db.segments.toArray())[0]!;
    const lines = await unpackSegment(row);
    const rows = lines.map((l, i) => ({
      hash: l.hash,
      device: '',
      seq: 0,
      text: i === 40 ? l.text.replace('note 38', 'note 88') : l.text,
    }));
    await store.db.segments.put({ ...(await packSegment(rows, () => 'none')), n: row.n! });
    const { faults } = await proveChains(store.db, quiet);
    expect(faults.some((f) => f.includes(`segment ${row.n}, line 41`) && f.includes('changed'))).toBe(true);
  });

  it('lets two windows of one tablet write in turn without losing or doubling an entry', async () => {
    const other = await CastingStore.open(store.db.casting, quiet);
    await store.save([note(1)]);
    await other.save([note(2)]);
    await store.save([note(3), note(4)]);
    await other.save([note(5)]);
    const again = await CastingStore.open(store.db.casting, quiet);
    expect(again.log.head(again.device)![0]).toBe(7);
    expect(await proveChains(again.db, quiet)).toMatchObject({ entries: 7, faults: [] });
    other.close();
    again.close();
  });

  it('takes many entries of others straight into segments, and gives them all back', async () => {
    const { device } = store;
    await store.save(Array.from({ length: 1500 }, (_, i) => note(i)));
    const lines = [...store.log.all()].map((k) => canonicalJson(k.entry));
    const other = await newStore();
    const copy = await CastingStore.createFrom(`${store.db.casting.slice(0, 31)}0`, other.tabletKey, [], quiet);
    expect(await copy.receive(lines)).toMatchObject({ added: 0 });
    copy.close();
    other.close();
    await store.db.tail.clear();
    await store.db.segments.clear();
    const empty = await CastingStore.open(store.db.casting, quiet);
    expect(await empty.receive(lines)).toEqual({ added: 1502, refused: [] });
    expect(await empty.db.segments.count()).toBe(2);
    const again = await CastingStore.open(store.db.casting, quiet);
    expect([again.log.size, again.log.head(device)![0]]).toEqual([1502, 1502]);
    again.close();
    empty.close();
  });

  it('gives the ballast up when the storage is full, and saves', async () => {
    const { db } = store;
    const real = db.tail.bulkAdd.bind(db.tail);
    let full = true;
    db.tail.bulkAdd = ((...args: Parameters<typeof real>) => {
      if (full) {
        full = false;
        const error = new Error('full');
        error.name = 'QuotaExceededError';
        throw error;
      }
      return real(...args);
    }) as typeof db.tail.bulkAdd;
    expect(await db.ballast.count()).toBe(1);
    await store.save([note(1)]);
    expect(await db.ballast.count()).toBe(0);
    expect(store.log.head(store.device)![0]).toBe(3);
  });

  it('says how many entries lie only here, and since when', async () => {
    await store.save([note(1)]);
    expect(store.waiting).toEqual({ count: 3, since: at });
  });

  it('writes nothing of a batch when one part does not fit its kind', async () => {
    await expect(store.save([note(1), act('note', { text: '' })])).rejects.toThrow('does not fit');
    expect(store.log.head(store.device)![0]).toBe(2);
    await store.save([note(2)]);
    expect(store.log.head(store.device)![0]).toBe(3);
  });
});
