import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessOf, admissions, join, makeCode, revoke } from '../../src/server/access.ts';
import { type Database, openDatabase } from '../../src/server/database/open-database.ts';
import { engines, settingsOf } from './engines.ts';

const NOW = 1_772_000_000_000;
const MINUTE = 60_000;
const ours = { casting: 'a'.repeat(32), device: '1'.repeat(32) };
const theirs = { casting: 'b'.repeat(32), device: '2'.repeat(32) };

describe.each(engines())('joining, on $name', (engine) => {
  let database: Database;
  beforeAll(async () => {
    await engine.start();
    database = await openDatabase(settingsOf(await engine.emptyWorld()));
  });
  afterAll(async () => {
    await database?.close();
    await engine.stop();
  });

  it('gives a token for a code, once', async () => {
    const code = await makeCode(database.db, null, 60, NOW);
    expect(code).toMatch(/^[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}$/);
    const joined = await join(database.db, { code, ...ours }, NOW);
    expect(joined!.casting).toBe(ours.casting);
    expect(await accessOf(database.db, joined!.token)).toMatchObject(ours);
    expect(await join(database.db, { code, ...ours }, NOW)).toBeNull();
  });

  it('takes a code as people type it', async () => {
    const code = await makeCode(database.db, null, 60, NOW);
    const typed = ` ${code.toLowerCase().replaceAll('-', ' ').replaceAll('0', 'o').replaceAll('1', 'l')}`;
    expect(await join(database.db, { code: typed, ...ours }, NOW)).not.toBeNull();
  });

  it('takes a code to its last millisecond and no longer', async () => {
    const first = await makeCode(database.db, null, 10, NOW);
    const second = await makeCode(database.db, null, 10, NOW);
    expect(await join(database.db, { code: first, ...ours }, NOW + 10 * MINUTE)).not.toBeNull();
    expect(await join(database.db, { code: second, ...ours }, NOW + 10 * MINUTE + 1)).toBeNull();
  });

  it('takes the code of one casting for that casting alone, and a wrong try does not use it up', async () => {
    const code = await makeCode(database.db, ours.casting, 60, NOW);
    expect(await join(database.db, { code, ...theirs }, NOW)).toBeNull();
    expect(await join(database.db, { code, ...ours }, NOW)).not.toBeNull();
  });

  it('tells a tablet that names no casting which one its code is for, when it is for one', async () => {
    const code = await makeCode(database.db, ours.casting, 60, NOW);
    const nameless = { device: ours.device, casting: null };
    expect(await join(database.db, { code, ...nameless }, NOW)).toMatchObject({ casting: ours.casting });
    const open = await makeCode(database.db, null, 60, NOW);
    expect(await join(database.db, { code: open, ...nameless }, NOW)).toBeNull();
    expect(await join(database.db, { code: open, ...theirs }, NOW)).toMatchObject({ casting: theirs.casting });
  });

  it('lets one of two in who use a code at once', async () => {
    const code = await makeCode(database.db, null, 60, NOW);
    const tokens = await Promise.all([1, 2, 3, 4].map(() => join(database.db, { code, ...ours }, NOW)));
    expect(tokens.filter((t) => t !== null)).toHaveLength(1);
  });

  it('revokes a token for good, and no other', async () => {
    const [one, other] = await Promise.all(
      [1, 2].map(async () => join(database.db, { code: await makeCode(database.db, null, 60, NOW), ...theirs }, NOW)),
    );
    const { id } = (await accessOf(database.db, one!.token))!;
    expect(await revoke(database.db, id, NOW)).toBe(true);
    expect(await revoke(database.db, id, NOW)).toBe(false);
    expect(await accessOf(database.db, one!.token)).toBeNull();
    expect(await accessOf(database.db, other!.token)).toMatchObject(theirs);
    expect((await admissions(database.db)).find((a) => a.id === id)).toMatchObject({ ...theirs, revokedAt: NOW });
  });

  it('keeps neither a code nor a token as it is', async () => {
    const code = await makeCode(database.db, null, 60, NOW);
    const { token } = (await join(database.db, { code, ...ours }, NOW))!;
    const codes = await database.db.selectFrom('code').selectAll().execute();
    const tokens = await database.db.selectFrom('token').selectAll().execute();
    const kept = JSON.stringify([codes, tokens]);
    expect(kept).not.toContain(code.replaceAll('-', ''));
    expect(kept).not.toContain(token);
  });

  it('knows no token that was made up', async () => {
    expect(await accessOf(database.db, '')).toBeNull();
    expect(await accessOf(database.db, "' or 1=1 --")).toBeNull();
  });
});
