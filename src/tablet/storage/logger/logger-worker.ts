import { FileFault } from '../../../../shared/logger/file-fault.ts';
import type { Taken } from '../../../../shared/logger/taking.ts';
import { CastingDatabase } from '../database.ts';
import { keepFile } from './kept-files.ts';
import type { LoggerAnswer, LoggerAsked, LoggerQuestion, NumberedAnswer } from './logger-beside.ts';
import { lookAtFile, type ReadProgress, readWhole, rebuildSamples } from './logger-files.ts';

/** Reads logger files beside the screens: asked by `LoggerBeside`. Each answer carries the number of its ask. */

/** What was read last: it is kept when the person says so, without reading it again. */
let taken: Taken | null = null;
let reads = 0;

addEventListener('message', ({ data: { ask, asked } }: MessageEvent<LoggerQuestion>) => {
  const tell = (answer: LoggerAnswer): void => postMessage({ ask, ...answer } satisfies NumberedAnswer);
  work(asked, (done, of) => tell({ done, of })).then(
    (result) => tell({ result }),
    (error: unknown) =>
      tell(
        error instanceof FileFault
          ? { fault: { code: error.code, message: error.message } }
          : { error: error instanceof Error ? error.message : String(error) },
      ),
  );
});

async function work(asked: LoggerAsked, progress: ReadProgress): Promise<unknown> {
  if (asked.do === 'look') return lookAtFile(asked.file, asked.channels, asked.parted);
  if (asked.do === 'read') {
    taken = null;
    reads += 1;
    const own = reads;
    const read = await readWhole(asked.file, asked.mapping, asked.now_ms, progress);
    // One that was left for another may end after it.
    if (own === reads) taken = read;
    return read.report;
  }
  const db = new CastingDatabase(asked.casting);
  try {
    if (asked.do === 'rebuild')
      return await rebuildSamples(db, asked.hash, asked.name, asked.mapping, asked.recorded_ms, progress);
    if (!taken) throw new Error('The file was not read');
    return await keepFile(db, asked.file, asked.mapping, taken);
  } finally {
    db.close();
  }
}
