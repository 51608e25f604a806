import { type Kysely, sql } from 'kysely';
import type { Engine } from './open-database.ts';
import type { Tables } from './schema.ts';

/**
 * The steps that bring an empty database to what this build needs, in order. They only grow at the end: a step that
 * has run anywhere is never changed.
 */
const steps: readonly ((bytes: string, serial: string) => readonly string[])[] = [
  (bytes, serial) => [
    'create table casting (casting text primary key, arrivals bigint not null)',
    `create table entry (
      casting text not null references casting (casting),
      device text not null,
      seq bigint not null,
      hash text not null,
      prev text,
      arrival bigint not null,
      text text not null,
      primary key (casting, device, seq, hash)
    )`,
    'create unique index entry_arrival on entry (casting, arrival)',
    'create unique index entry_hash on entry (casting, hash)',
    `create table head (
      casting text not null,
      device text not null,
      seq bigint not null,
      hash text not null,
      primary key (casting, device, hash)
    )`,
    `create table token (
      id ${serial},
      hash text not null unique,
      casting text not null,
      device text not null,
      created_at bigint not null,
      revoked_at bigint
    )`,
    `create table code (
      hash text primary key,
      casting text,
      expires_at bigint not null,
      used_at bigint
    )`,
    `create table blob (
      casting text not null,
      hash text not null,
      size bigint not null,
      complete integer not null,
      primary key (casting, hash)
    )`,
    `create table blob_part (
      casting text not null,
      hash text not null,
      start bigint not null,
      bytes ${bytes} not null,
      primary key (casting, hash, start),
      foreign key (casting, hash) references blob (casting, hash)
    )`,
  ],
  (bytes) => [
    `create table ready_page (
      casting text not null references casting (casting),
      after bigint not null,
      last bigint not null,
      devices text not null,
      length bigint not null,
      gz ${bytes} not null,
      primary key (casting, after)
    )`,
  ],
];

/** The version that this build's code is written for. */
export const SCHEMA_VERSION = steps.length;

/** A number that names "the schema of Lehrbook is being changed" among PostgreSQL's advisory locks. */
const MIGRATION_LOCK = 7_134_201;

/**
 * Brings the database up to this build, in one transaction; two processes that start together wait for each other.
 * @throws {Error} when a newer build has been here: an older one must not write into what it does not know
 */
export async function migrate(db: Kysely<Tables>, engine: Engine): Promise<void> {
  await db.transaction().execute(async (change) => {
    if (engine === 'postgres') await sql`select pg_advisory_xact_lock(${MIGRATION_LOCK})`.execute(change);
    await sql`create table if not exists schema_version (version integer not null)`.execute(change);
    const at = (await change.selectFrom('schema_version').select('version').executeTakeFirst())?.version ?? 0;
    if (at > SCHEMA_VERSION) {
      throw new Error(
        `A newer version of Lehrbook has used this database (its schema is ${at}, ours ${SCHEMA_VERSION})`,
      );
    }
    for (const step of steps.slice(at)) {
      for (const statement of step(...typesOf[engine])) await sql.raw(statement).execute(change);
    }
    await change.deleteFrom('schema_version').execute();
    await change.insertInto('schema_version').values({ version: SCHEMA_VERSION }).execute();
  });
}

const typesOf: Readonly<Record<Engine, readonly [bytes: string, serial: string]>> = {
  sqlite: ['blob', 'integer primary key autoincrement'],
  postgres: ['bytea', 'bigint generated always as identity primary key'],
};
