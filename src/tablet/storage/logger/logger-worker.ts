import { FileFault } from '../../../../shared/logger/file-fault.ts';
import type { Taken } from '../../../../shared/logger/taking.ts';
import { CastingDatabase } from '../database.ts';
import { keepFile } from './kept-files.ts';
import type { LoggerAnswer, LoggerAsked } from './logger-beside.ts';
import { lookAtFile, readWhole, rebuildSamples } from './logger-files.ts';

/** Reads logger files beside the screens: asked by `LoggerBeside`, one thing at a time. */

/** What was read last: it is kept when the person says so, without reading it again. */
let taken: Taken | null = null;

const tell = (answer: LoggerAnswer): void => postMessage(answer);
const progress = (done: number, of: number): void => tell({ done, of });

addEventListener('message', ({ data }: MessageEvent<LoggerAsked>) => {
  work(data).then(
    (result) => tell({ result }),
    (error: unknown) =>
      tell(
        error instanceof FileFault
          ? { fault: { code: error.code, message: error.message } }
          : { error: error instanceof Error ? error.message : String(error) },
      ),
  );
});

async function work(asked: LoggerAsked): Promise<unknown> {
  if (asked.do === 'look') return lookAtFile(asked.file, asked.channels, asked.parted);
  if (asked.do === 'read') {
    taken = null;
    taken = await readWhole(asked.file, asked.mapping, asked.now_ms, progress);
    return taken.report;
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
