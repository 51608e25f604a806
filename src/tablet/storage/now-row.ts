import type { CastingDatabase } from './database.ts';

/** What names a state of the stored log: how many entries it holds, and the head of this tablet's own chain. */
export interface LogStamp {
  readonly entries: number;
  readonly head: string | null;
}

/** Made of the sources that work the state out: a build that works it out otherwise does not take the old one. */
declare const __FOLD__: string;

export const stampOf = ({ entries, head }: LogStamp): string => `${__FOLD__} ${entries} ${head}`;

/** The kept state of the first screen; null when it was worked out from another log, or by another build. */
export async function readNowRow(db: CastingDatabase, of: LogStamp): Promise<unknown> {
  const row = await db.shards.get('now');
  return row?.stamp === stampOf(of) ? row.state : null;
}

export const putNowRow = async (db: CastingDatabase, of: LogStamp, state: unknown): Promise<void> => {
  await db.shards.put({ id: 'now', stamp: stampOf(of), state });
};
