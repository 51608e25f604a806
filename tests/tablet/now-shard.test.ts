import 'fake-indexeddb/auto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Standing } from '../../shared/logbook/standing.ts';
import { judge } from '../../shared/logbook/state/derived.ts';
import { viewOf } from '../../shared/logbook/state/view.ts';
import { randomOf } from '../../shared/practice/random.ts';
import type { NowShard } from '../../src/tablet/app/now-shard.ts';
import { nowFacts } from '../../src/tablet/screens/now/now-facts.ts';
import { nowFromStored } from '../../src/tablet/screens/now/now-from-stored.ts';
import { CastingStore } from '../../src/tablet/storage/casting-store.ts';
import { CastingDatabase } from '../../src/tablet/storage/database.ts';
import { makeTabletKey } from '../../src/tablet/storage/keys.ts';
import { putNowRow, readNowRow } from '../../src/tablet/storage/now-row.ts';
import { ENDS_AT, practice } from '../practice/practice-world.ts';

const quiet = (): void => undefined;

/**
 * The practice casting comes in pieces of random length, as a tablet hears of it. After each piece the first screen as
 * this session has it, with all answers kept since the first piece, must equal the one made from the stored bytes alone.
 */
describe('the kept first screen', () => {
  let store: CastingStore;
  let standing: Standing;
  let lines: readonly string[];
  const random = randomOf('prefixes', 'now shard');

  beforeAll(async () => {
    const { casting, lines: all } = await practice('now-shard');
    lines = all;
    store = await CastingStore.create(casting, await makeTabletKey(), quiet);
    standing = new Standing(store.log);
  }, 60_000);
  afterAll(() => store.close());

  const live = (): NowShard => nowFacts(viewOf(store.log, judge, standing)!, ENDS_AT);

  it('equals the one rebuilt from the stored entries, after every prefix that is drawn', async () => {
    let from = 0;
    const said = new Set<string>();
    for (let step = 0; from < lines.length; step++) {
      const piece = step === 0 ? 30 : 1 + Math.floor(random.uniform() * (lines.length / 5));
      await store.receive(lines.slice(from, from + piece));
      from += piece;
      if (step % 2 === 1) await store.seal();
      const now = live();
      const { stamp, shard } = await nowFromStored(store.db, ENDS_AT);
      expect(shard).toEqual(now);
      expect(stamp).toEqual(store.stamp);
      said.add(JSON.stringify(now));
    }
    expect(said.size).toBeGreaterThan(5);
  }, 120_000);

  it.each(['second draw', 'third draw'])(
    'equals it too when entries come out of their order: %s',
    async (seed) => {
      const draw = randomOf(seed, 'now shard');
      const { casting, lines: all } = await practice(`now-shard ${seed}`);
      const other = await CastingStore.create(casting, await makeTabletKey(), quiet);
      const others = new Standing(other.log);
      // The first entries say what casting it is; of the others any may come before the one that it follows.
      const late = all
        .slice(30)
        .map((line) => ({ line, at: draw.uniform() }))
        .sort((a, b) => a.at - b.at)
        .map(({ line }) => line);
      await other.receive(all.slice(0, 30));
      for (let from = 0; from < late.length; ) {
        const piece = 1 + Math.floor(draw.uniform() * (late.length / 3));
        await other.receive(late.slice(from, from + piece));
        from += piece;
        if (draw.uniform() < 0.5) await other.seal();
        const { shard } = await nowFromStored(other.db, ENDS_AT);
        expect(shard).toEqual(nowFacts(viewOf(other.log, judge, others)!, ENDS_AT));
      }
      other.close();
    },
    120_000,
  );

  it('is taken while the log is the one that it was worked out from, and not after', async () => {
    const kept = live();
    await putNowRow(store.db, store.stamp, kept);
    expect(await readNowRow(store.db, store.stamp)).toEqual(kept);
    const [person] = kept.people;
    const at = new Date(ENDS_AT).toISOString();
    await store.save([{ kind: 'note', body: { text: 'one more' }, by: person!.id, observedAt: at, recordedAt: at }]);
    expect(await readNowRow(store.db, store.stamp)).toBeNull();
  });

  it('refuses to be made from a damaged log', async () => {
    const [row] = await store.db.segments.toArray();
    const gz = Uint8Array.from(row!.gz);
    gz[Math.floor(gz.length / 2)]! ^= 1;
    await store.db.segments.put({ ...row!, gz });
    await expect(nowFromStored(store.db, ENDS_AT)).rejects.toThrow(`segment ${row!.n}`);
  });

  it('lets a tablet save while its log is still being read, and loses neither', async () => {
    const at = new Date(ENDS_AT).toISOString();
    const slow = await CastingStore.openUnread(new CastingDatabase(store.db.casting), quiet);
    const reading = slow.read();
    const by = standing.people()[0]!.id;
    await slow.save([{ kind: 'note', body: { text: 'while reading' }, by, observedAt: at, recordedAt: at }]);
    await reading;
    const [seq] = slow.log.head(slow.device)!;
    expect(seq).toBe(store.log.head(store.device)![0] + 1);
    slow.close();
  });
});
