import { createHash, randomBytes } from 'node:crypto';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { answerKeeper, UsageError } from '../../src/cli/keeper.ts';
import { accessOf, join as joinWith, makeCode } from '../../src/server/access.ts';
import { addPart, blobState } from '../../src/server/blobs.ts';
import { DatabaseEntryStore } from '../../src/server/database/entry-store.ts';
import { type Database, openDatabase } from '../../src/server/database/open-database.ts';
import { idOf, TestChain } from './chains.ts';
import { engines, settingsOf } from './engines.ts';

const NOW = Date.UTC(2026, 2, 1);
const casting = idOf('casting');

/** Everything that a backup must bring back, in an order of its own. */
async function contents({ db }: Database) {
  return {
    castings: await db.selectFrom('casting').selectAll().orderBy('casting').execute(),
    entries: await db.selectFrom('entry').selectAll().orderBy('casting').orderBy('arrival').execute(),
    heads: await db.selectFrom('head').selectAll().orderBy('hash').execute(),
    tokens: await db.selectFrom('token').select(['hash', 'casting', 'device', 'revoked_at']).orderBy('hash').execute(),
    blobs: await db.selectFrom('blob').selectAll().where('complete', '=', 1).orderBy('hash').execute(),
  };
}

describe('backup and restore', () => {
  const [sqlite, postgres] = engines();
  const folder = mkdtempSync(join(tmpdir(), 'lehrbook-backup-'));
  const opened: Database[] = [];
  const empty = async (engine = sqlite!): Promise<Database> => {
    const database = await openDatabase(settingsOf(await engine.emptyWorld()));
    opened.push(database);
    return database;
  };
  const settings = settingsOf({});
  const keeper = (database: Database, ...words: string[]) => answerKeeper(words, { database, settings, now: NOW });
  const file = (name: string) => join(folder, name);
  let full: Database;
  let token: string;
  const photo = Buffer.alloc(300_000, 7);
  const photoHash = createHash('sha256').update(photo).digest('hex');

  beforeAll(async () => {
    await sqlite!.start();
    await postgres!.start();
    full = await empty();
    const links = [...new TestChain(casting, 'first').grow(700), ...new TestChain(casting, 'second').grow(40)];
    await new DatabaseEntryStore(full).append(casting, links);
    ({ token } = (await joinWith(
      full.db,
      { code: await makeCode(full.db, null, 60, NOW), casting, device: idOf('first') },
      NOW,
    ))!);
    await addPart(full.db, { casting, hash: photoHash, start: 0, size: photo.length }, photo);
    await addPart(full.db, { casting, hash: '0'.repeat(64), start: 0, size: 100 }, randomBytes(10));
    expect(await keeper(full, 'backup', file('full'))).toEqual([
      `Wrote 740 entries, 1 photo, 1 tablet into ${file('full')}`,
    ]);
  });
  afterAll(async () => {
    for (const database of opened) await database.close();
    await sqlite!.stop();
    await postgres!.stop();
    rmSync(folder, { recursive: true, force: true });
  });

  it('bring everything back, from one engine to the other and back', async () => {
    const there = await empty(postgres);
    await keeper(there, 'restore', file('full'));
    await keeper(there, 'backup', file('there'));
    const back = await empty();
    await keeper(back, 'restore', file('there'));
    expect(await contents(there)).toEqual(await contents(full));
    expect(await contents(back)).toEqual(await contents(full));
    expect(await accessOf(back.db, token)).toMatchObject({ casting });
    expect(await blobState(back.db, casting, photoHash)).toMatchObject({ complete: true });
  });

  it('write no token and no code in a form that could be used', async () => {
    const code = (await keeper(full, 'code'))[0]!;
    await keeper(full, 'backup', file('secrets'));
    const text = gunzipSync(readFileSync(file('secrets'))).toString();
    expect(text).not.toContain(token);
    expect(text).not.toContain(createHash('sha256').update(code.replaceAll('-', '')).digest('hex'));
  });

  it('write one moment, while entries go on coming', async () => {
    const database = await empty(postgres);
    await keeper(database, 'restore', file('full'));
    const chain = new TestChain(casting, 'third');
    const store = new DatabaseEntryStore(database);
    const backup = keeper(database, 'backup', file('moment'));
    for (let i = 0; i < 40; i++) await store.append(casting, chain.grow(1));
    await backup;
    const restored = await empty();
    await keeper(restored, 'restore', file('moment'));
    const { castings, entries } = await contents(restored);
    expect(entries).toHaveLength(castings[0]!.arrivals);
  });

  it('overwrite nothing', async () => {
    await expect(keeper(full, 'backup', file('full'))).rejects.toThrow('is there already');
    await expect(keeper(full, 'restore', file('full'))).rejects.toThrow('not empty');
  });

  it('leave no half a file behind', async () => {
    await expect(keeper(full, 'backup', file('none/such'))).rejects.toThrow();
    expect(existsSync(file('none/such.partial'))).toBe(false);
  });

  const damages: [string, () => Buffer][] = [
    ['cut short', () => readFileSync(file('full')).subarray(0, -200)],
    ['cut at a line', () => gzipSync(lines().slice(0, -1).join('\n'))],
    ['empty', () => Buffer.alloc(0)],
    ['something else', () => gzipSync('{"hello":1}')],
    ['not gzipped', () => gunzipSync(readFileSync(file('full')))],
    ['without one entry', () => gzipSync(lines().toSpliced(300, 1).join('\n'))],
    ['with an entry changed', () => gzipSync(lines().join('\n').replace('Turned', 'Burned'))],
    ['with a photo changed', () => gzipSync(lines().join('\n').replace('BwcH', 'BwcI'))],
    [
      'with two lines changed about',
      () => gzipSync(lines().with(300, lines()[301]!).with(301, lines()[300]!).join('\n')),
    ],
  ];
  const lines = () =>
    gunzipSync(readFileSync(file('full')))
      .toString()
      .trimEnd()
      .split('\n');

  it.each(damages)('refuse a file that is %s, and leave the database empty', async (name, damaged) => {
    writeFileSync(file(`damaged ${name}`), damaged());
    const database = await empty();
    await expect(keeper(database, 'restore', file(`damaged ${name}`))).rejects.toThrow(
      /^(The file|Line \d+ of the file)/,
    );
    expect(await contents(database)).toEqual({ castings: [], entries: [], heads: [], tokens: [], blobs: [] });
  });
});

describe('the commands of a keeper', () => {
  const [sqlite] = engines();
  let database: Database;
  const keeper = (...words: string[]) => answerKeeper(words, { database, settings: settingsOf({}), now: NOW });
  beforeAll(async () => {
    database = await openDatabase(settingsOf(await sqlite!.emptyWorld()));
  });
  afterAll(async () => {
    await database.close();
    await sqlite!.stop();
  });

  it('make codes, list tablets and revoke them', async () => {
    expect(await keeper('tablets')).toEqual(['No tablet has joined']);
    const [code] = await keeper('code');
    const joined = await joinWith(database.db, { code: code!, casting, device: idOf('first') }, NOW);
    expect(await keeper('tablets')).toEqual([
      `1  tablet ${idOf('first')}  casting ${casting}  joined 2026-03-01T00:00:00.000Z`,
    ]);
    await keeper('revoke', '1');
    expect(await accessOf(database.db, joined!.token)).toBeNull();
    expect((await keeper('tablets'))[0]).toContain('revoked');
    await expect(keeper('revoke', '1')).rejects.toThrow(UsageError);
  });

  it('ask for the casting when there are several', async () => {
    const names = [idOf('one'), idOf('two')].sort();
    for (const name of names) await database.db.insertInto('casting').values({ casting: name, arrivals: 0 }).execute();
    await expect(keeper('code')).rejects.toThrow(names.join(', '));
    expect(await keeper('code', names[0]!)).toHaveLength(2);
    expect(await keeper('code', 'new')).toHaveLength(2);
  });

  it.each([[['frobnicate']], [[]], [['backup']], [['revoke', '1', '2']], [['constructor']], [['revoke', 'x']]])(
    'refuse %j',
    async (words) => {
      await expect(keeper(...words)).rejects.toThrow(UsageError);
    },
  );
});
