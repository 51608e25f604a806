import type { LevelTimes, LevelValues } from '../../../../shared/logger/pyramid.ts';
import type { CastingDatabase, SampleFileRow } from '../database.ts';
import { sampleKey } from './kept-files.ts';

/** One level of one channel of a file. */
export interface Level {
  readonly times: LevelTimes;
  readonly values: LevelValues;
}

/**
 * The samples of a casting as they are wanted: what has been read is answered at once, what has not is read and told
 * of when it is here.
 */
export class SampleSource {
  private readonly db: CastingDatabase;
  private readonly changed: () => void;
  /** How many levels are on their way. */
  pending = 0;
  private readonly known = new Map<string, Level | 'reading'>();
  private readonly times = new Map<string, Promise<LevelTimes | null>>();

  constructor(db: CastingDatabase, changed: () => void) {
    this.db = db;
    this.changed = changed;
  }

  /** The files whose samples lie here, by their ids; null for those that must be read again. */
  files(ids: readonly string[]): Promise<(SampleFileRow | undefined)[]> {
    return this.db.sampleFiles.bulkGet([...ids]);
  }

  /** The level that is wanted, or the next coarser one that is here; null while nothing is. */
  level(file: SampleFileRow, channel: string, wanted: number): Level | null {
    if (!file.channels.includes(channel)) return null;
    for (let level = wanted; level < file.levels; level++) {
      const known = this.known.get(sampleKey(file.id, level, channel));
      if (known === undefined && (level === wanted || level === file.levels - 1)) this.read(file.id, level, channel);
      if (known !== undefined && known !== 'reading') return known;
    }
    return null;
  }

  private read(file: string, level: number, channel: string): void {
    const key = sampleKey(file, level, channel);
    this.known.set(key, 'reading');
    this.pending += 1;
    Promise.all([this.timesOf(file, level), this.db.samples.get(key)]).then(
      ([times, row]) => {
        this.pending -= 1;
        if (times && row?.values) this.known.set(key, { times, values: row.values });
        this.changed();
      },
      (error: unknown) => {
        this.pending -= 1;
        console.error('Samples could not be read', error);
        this.changed();
      },
    );
  }

  private timesOf(file: string, level: number): Promise<LevelTimes | null> {
    const key = sampleKey(file, level);
    const asked = this.times.get(key) ?? this.db.samples.get(key).then((row) => row?.times ?? null);
    this.times.set(key, asked);
    return asked;
  }
}
