import { Log } from '../../../../shared/logbook/log.ts';
import { Standing } from '../../../../shared/logbook/standing.ts';
import { judge } from '../../../../shared/logbook/state/derived.ts';
import { viewOf } from '../../../../shared/logbook/state/view.ts';
import type { NowShard } from '../../app/now-shard.ts';
import type { CastingDatabase } from '../../storage/database.ts';
import type { LogStamp } from '../../storage/now-row.ts';
import { readLog } from '../../storage/read-log.ts';
import { nowFacts } from './now-facts.ts';

/**
 * The first screen, worked out from nothing but the stored entries.
 * @throws {Error} when the log does not hold a casting and its plan, or part of it is damaged.
 */
export async function nowFromStored(db: CastingDatabase, at_ms: number): Promise<{ stamp: LogStamp; shard: NowShard }> {
  const chain = await db.chain.get('own');
  const log = new Log(db.casting);
  const { damaged } = await readLog(db, log, 0);
  if (damaged[0]) throw new Error(`${damaged[0].place}: ${damaged[0].fault}`);
  const view = viewOf(log, judge, new Standing(log));
  if (!view || !chain) throw new Error('The log holds no plan yet');
  return { stamp: { entries: log.size, head: chain.head?.[1] ?? null }, shard: nowFacts(view, at_ms) };
}
