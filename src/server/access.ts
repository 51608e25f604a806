import { createHash, randomBytes } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { Tables } from './database/schema.ts';

/** What a bearer token lets a tablet do: carry the entries of one casting. It vouches for nobody. */
export interface Access {
  /** Names the token in logs and commands; gives nothing away. */
  readonly id: number;
  readonly casting: string;
  readonly device: string;
}

/** What a tablet brings to be let in. */
export interface Joiner {
  readonly code: string;
  /** Null leaves it to the code: a tablet that has nothing of the casting yet. */
  readonly casting: string | null;
  readonly device: string;
}

/** A tablet that may, or might once, carry a casting's entries. */
export interface Admission extends Access {
  readonly createdAt: number;
  readonly revokedAt: number | null;
}

/** Characters that are not mistaken for each other when read aloud: no I, L, O, U. */
const CODE_LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const CODE_LENGTH = 12;

const hashOf = (secret: string): string => createHash('sha256').update(secret).digest('hex');

/** A code as it is compared: what a person may type differently says the same. */
const plain = (code: string): string =>
  code.toUpperCase().replaceAll(/[\s-]/g, '').replaceAll('O', '0').replaceAll(/[IL]/g, '1');

/**
 * Makes a one-time code: 60 random bits, of which only the hash is kept.
 * @param casting the casting that it joins to; null for the first tablet of a server, which brings its own
 * @param minutes how long it is good for
 */
export async function makeCode(
  db: Kysely<Tables>,
  casting: string | null,
  minutes: number,
  now: number,
): Promise<string> {
  const letters = [...randomBytes(CODE_LENGTH)].map((byte) => CODE_LETTERS[byte % CODE_LETTERS.length]!).join('');
  await db.deleteFrom('code').where('expires_at', '<', now).execute();
  await db
    .insertInto('code')
    .values({ hash: hashOf(letters), casting, expires_at: now + minutes * 60_000, used_at: null })
    .execute();
  return letters.replace(/^(.{4})(.{4})/, '$1-$2-');
}

/** A token, and the casting that it is good for. */
export interface Joined {
  readonly token: string;
  readonly casting: string;
}

/**
 * Uses a code up and gives the tablet its token, which is kept as a hash alone. Null when the code is wrong, used,
 * too old, for another casting, or for no casting in particular when the tablet names none: which, is not told.
 */
export async function join(db: Kysely<Tables>, joiner: Joiner, now: number): Promise<Joined | null> {
  const hash = hashOf(plain(joiner.code));
  return db.transaction().execute(async (change) => {
    const good = change.selectFrom('code').select('casting').where('hash', '=', hash).where('expires_at', '>=', now);
    const code = await good.executeTakeFirst();
    const casting = code?.casting ?? joiner.casting;
    if (!code || casting === null || (joiner.casting ?? casting) !== casting) return null;
    const unused = change
      .updateTable('code')
      .set({ used_at: now })
      .where('hash', '=', hash)
      .where('used_at', 'is', null);
    // Of two that come with one code at once, one finds it used.
    if ((await unused.executeTakeFirst()).numUpdatedRows !== 1n) return null;
    const token = randomBytes(32).toString('base64url');
    const row = { hash: hashOf(token), casting, device: joiner.device, created_at: now, revoked_at: null };
    await change.insertInto('token').values(row).execute();
    return { token, casting };
  });
}

/** What a token lets its bearer do; null when there is no such token, or it was revoked. */
export async function accessOf(db: Kysely<Tables>, token: string): Promise<Access | null> {
  const row = await db
    .selectFrom('token')
    .select(['id', 'casting', 'device'])
    .where('hash', '=', hashOf(token))
    .where('revoked_at', 'is', null)
    .executeTakeFirst();
  return row ?? null;
}

/** Every token that was ever given, the oldest first. */
export async function admissions(db: Kysely<Tables>): Promise<Admission[]> {
  const rows = await db.selectFrom('token').selectAll().orderBy('id').execute();
  return rows.map(({ id, casting, device, created_at, revoked_at }) => ({
    id,
    casting,
    device,
    createdAt: created_at,
    revokedAt: revoked_at,
  }));
}

/** Revokes a token, at once and for good. False when there is none of that id that is still good. */
export async function revoke(db: Kysely<Tables>, id: number, now: number): Promise<boolean> {
  const done = await db
    .updateTable('token')
    .set({ revoked_at: now })
    .where('id', '=', id)
    .where('revoked_at', 'is', null)
    .executeTakeFirst();
  return done.numUpdatedRows === 1n;
}

/** Whether any tablet ever joined. */
export async function anyAdmission(db: Kysely<Tables>): Promise<boolean> {
  return (await db.selectFrom('token').select('id').limit(1).executeTakeFirst()) !== undefined;
}
