import { liveQuery, type Observable } from 'dexie';
import type { Logged, Sample } from '../../../../shared/logbook/state/samples.ts';
import { firstEndingAt, levelFor } from '../../../../shared/logger/columns.ts';
import type { CastingDatabase, SampleFileRow } from '../database.ts';
import { sampleKey } from './kept-files.ts';

interface Span {
  readonly from_ms: number;
  readonly to_ms: number;
}

const HOUR_MS = 3_600_000;
/** The longest window that a rate is taken over, and some more. */
const RECENT_MS = 80 * HOUR_MS;
/** Buckets no longer than this: a rate over an hour wants some, a slab of weeks does not. */
const RECENT_STEP_MS = HOUR_MS / 4;
const OLDER_STEP_MS = 2 * HOUR_MS;

/**
 * Tells what loggers recorded of some channels: now, and again whenever samples of these files come. It is named by the
 * files whose samples lie here, so that what is worked out of some of them does not stand for all.
 */
export const watchLogged = (
  db: CastingDatabase,
  ids: readonly string[],
  channels: readonly string[],
  span: Span,
): Observable<Logged> =>
  liveQuery(async () => {
    const { found, samples } = await loggedSamples(db, ids, channels, span);
    return { name: `${span.from_ms} ${found.join()}`, samples };
  });

/**
 * What the files whose samples lie here hold of some channels, oldest first, the middle of each bucket: finely for the
 * last days, coarsely before.
 * @param ids names of samples, as `samplesId` gives them
 */
async function loggedSamples(
  db: CastingDatabase,
  ids: readonly string[],
  channels: readonly string[],
  { from_ms, to_ms }: Span,
): Promise<{ found: string[]; samples: Sample[] }> {
  const files = (await db.sampleFiles.bulkGet([...ids])).filter((f) => f !== undefined);
  const recent_ms = Math.max(from_ms, to_ms - RECENT_MS);
  const parts = files.flatMap((file) => [
    levelSamples(db, file, channels, { from_ms, to_ms: recent_ms }, OLDER_STEP_MS),
    levelSamples(db, file, channels, { from_ms: recent_ms, to_ms }, RECENT_STEP_MS),
  ]);
  const samples = (await Promise.all(parts)).flat().sort((a, b) => a.t_ms - b.t_ms);
  return { found: files.map((f) => f.id), samples };
}

async function levelSamples(
  db: CastingDatabase,
  file: SampleFileRow,
  channels: readonly string[],
  { from_ms, to_ms }: Span,
  step_ms: number,
): Promise<Sample[]> {
  if (file.to_ms < from_ms || file.from_ms >= to_ms) return [];
  const level = levelFor(file.to_ms - file.from_ms, file.rows, file.levels, step_ms);
  const own = channels.filter((c) => file.channels.includes(c));
  const [axis, ...rows] = await db.samples.bulkGet([
    sampleKey(file.id, level),
    ...own.map((channel) => sampleKey(file.id, level, channel)),
  ]);
  const times = axis?.times;
  if (!times) return [];
  const samples: Sample[] = [];
  for (let i = firstEndingAt(times.to, from_ms); i < times.from.length; i++) {
    const t_ms = (times.from[i]! + times.to[i]!) / 2;
    if (t_ms >= to_ms) break;
    if (t_ms < from_ms) continue;
    rows.forEach((row, k) => {
      const celsius = row?.values ? (row.values.least[i]! + row.values.greatest[i]!) / 2 : Number.NaN;
      if (!Number.isNaN(celsius)) samples.push({ t_ms, channel: own[k]!, celsius });
    });
  }
  return samples;
}
