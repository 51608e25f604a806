import type { Kept } from '../../../shared/logbook/log.ts';
import { loggerFiles } from '../../../shared/logbook/state/logger-files.ts';
import type { LoggerMapping } from '../../../shared/logger/mapping.ts';
import type { LoggerReport } from '../../../shared/logger/report.ts';
import { openStore, openView } from '../app/tablet.ts';
import { forgetFile } from '../storage/logger/kept-files.ts';
import type { LoggerBeside } from '../storage/logger/logger-beside.ts';
import { act, save } from './save.ts';

/** A file that was read and looked through. */
export interface ReadFile {
  readonly file: File;
  readonly mapping: LoggerMapping;
  readonly report: LoggerReport;
}

/**
 * Takes in the file that was read last: first file and samples are kept, then an entry names them. Where the entry
 * cannot be kept, nothing is.
 * @throws {Error} in words, where the same file was taken in before
 */
export async function takeLoggerFile(beside: LoggerBeside, { file, mapping, report }: ReadFile): Promise<Kept> {
  const { db } = openStore();
  const hash = await beside.keep(db.casting, file, mapping);
  const twin = loggerFiles(openView()).find((f) => f.body.file.hash === hash);
  if (twin) throw new Error(`The same file was taken in before, as ${twin.body.file.name}. Strike that entry first.`);
  try {
    const [kept] = await save(
      act('logger', {
        file: { hash, name: file.name, bytes: file.size },
        mapping,
        rows: report.rows,
        taken: report.taken,
        from: new Date(report.from_ms).toISOString(),
        to: new Date(report.to_ms).toISOString(),
      }),
    );
    return kept!;
  } catch (error) {
    await forgetFile(db, hash, mapping);
    throw error;
  }
}
