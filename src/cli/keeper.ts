import { createReadStream, createWriteStream, existsSync } from 'node:fs';
import { open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { admissions, makeCode, revoke } from '../server/access.ts';
import { type BackupCount, BackupError, restoreBackup, writeBackup } from '../server/backup.ts';
import type { Database } from '../server/database/open-database.ts';
import type { Settings } from '../server/settings.ts';

/** What a command works on. */
export interface Desk {
  readonly database: Database;
  readonly settings: Settings;
  /** Milliseconds since 1970. */
  readonly now: number;
}

/** Words that are no command. */
export class UsageError extends Error {}

export const KEEPER_USAGE = `npm run server -- code [CASTING | new]   a one-time code that lets one tablet join
npm run server -- tablets                the tablets that joined, each with its number
npm run server -- revoke NUMBER          takes a tablet's token away, at once and for good
npm run server -- backup FILE            writes everything into a new file; the server may run meanwhile
npm run server -- restore FILE           puts a backup into an empty database`;

type Command = (desk: Desk, word: string | undefined) => Promise<string[]>;

const commands: Readonly<
  Record<string, { readonly run: Command; readonly words: readonly [least: number, most: number] }>
> = {
  code: { run: code, words: [0, 1] },
  tablets: { run: tablets, words: [0, 0] },
  revoke: { run: revokeTablet, words: [1, 1] },
  backup: { run: backup, words: [1, 1] },
  restore: { run: restore, words: [1, 1] },
};

/**
 * Does what a keeper asks at the server's machine, and gives the lines to print.
 * @throws {UsageError} for words that are no command
 * @throws {BackupError} when a backup cannot be written or must not be restored
 */
export async function answerKeeper(words: readonly string[], desk: Desk): Promise<string[]> {
  const [name = '', ...rest] = words;
  const command = Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (!command) throw new UsageError(name ? `There is no command ${name}` : 'Name a command');
  const [least, most] = command.words;
  if (rest.length < least || rest.length > most) throw new UsageError(`The words after ${name} do not fit`);
  return command.run(desk, rest[0]);
}

async function code({ database, settings, now }: Desk, word: string | undefined): Promise<string[]> {
  const casting = await castingNamed(database, word);
  const made = await makeCode(database.db, casting, settings.codeMinutes, now);
  const what = casting === null ? 'a tablet with a casting that is new here' : `a tablet to casting ${casting}`;
  return [made, `lets ${what} join, once, for ${settings.codeMinutes} minutes`];
}

async function castingNamed({ db }: Database, word: string | undefined): Promise<string | null> {
  if (word === 'new') return null;
  const castings = (await db.selectFrom('casting').select('casting').orderBy('casting').execute()).map(
    (c) => c.casting,
  );
  if (word === undefined && castings.length < 2) return castings[0] ?? null;
  if (word !== undefined && castings.includes(word)) return word;
  throw new UsageError(`Name the casting, or new: ${castings.join(', ') || 'there is none yet'}`);
}

async function tablets({ database }: Desk): Promise<string[]> {
  const all = await admissions(database.db);
  if (all.length === 0) return ['No tablet has joined'];
  return all.map(
    (a) =>
      `${a.id}  tablet ${a.device}  casting ${a.casting}  joined ${iso(a.createdAt)}` +
      (a.revokedAt === null ? '' : `  revoked ${iso(a.revokedAt)}`),
  );
}

const iso = (ms: number) => new Date(ms).toISOString();

async function revokeTablet({ database, now }: Desk, word: string | undefined): Promise<string[]> {
  const id = /^\d{1,15}$/.test(word!) ? Number(word) : Number.NaN;
  if (Number.isNaN(id) || !(await revoke(database.db, id, now))) {
    throw new UsageError(`There is no tablet ${word} that may still carry entries`);
  }
  return [`Tablet ${id} carries nothing any more. What it brought stays; whether it counts is for the roster to say.`];
}

async function backup({ database, now }: Desk, file: string | undefined): Promise<string[]> {
  if (existsSync(file!)) throw new BackupError(`${file} is there already: name a new file`);
  const partial = `${file}.partial`;
  let counts: BackupCount;
  try {
    counts = await writeBackup(database, createWriteStream(partial, { flags: 'wx', mode: 0o600, flush: true }), now);
    await rename(partial, file!);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') await rm(partial, { force: true });
    throw error;
  }
  await reachDisk(dirname(file!));
  return [`Wrote ${said(counts)} into ${file}`];
}

/** A renamed file is there after a power cut only when its folder has reached the disk too. */
async function reachDisk(folder: string): Promise<void> {
  const handle = await open(folder);
  await handle.sync().finally(() => handle.close());
}

async function restore({ database }: Desk, file: string | undefined): Promise<string[]> {
  const counts = await restoreBackup(database, createReadStream(file!));
  return [
    `Restored ${said(counts)}`,
    'Tablets that were revoked after this backup was made can carry entries again: see tablets, and revoke them anew.',
  ];
}

const said = ({ entries, blobs, tokens }: BackupCount) =>
  `${entries} ${entries === 1 ? 'entry' : 'entries'}, ${counted(blobs, 'photo')}, ${counted(tokens, 'tablet')}`;

const counted = (n: number, word: string) => `${n} ${word}${n === 1 ? '' : 's'}`;
