import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { loggerFiles } from '../../../../../shared/logbook/state/logger-files.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { askForPhoto, blobsHere } from '../../../app/photos-here.ts';
import { openStore } from '../../../app/tablet.ts';
import type { SampleFileRow } from '../../../storage/database.ts';
import { samplesId } from '../../../storage/logger/kept-files.ts';
import { LoggerBeside } from '../../../storage/logger/logger-beside.ts';
import { SampleSource } from '../../../storage/logger/sample-source.ts';

export interface Samples {
  readonly source: SampleSource;
  /** Every file was looked for, and read again where that was needed. */
  readonly settled: boolean;
  /** Files whose samples are here; null until the tablet has looked. */
  readonly files: readonly SampleFileRow[] | null;
  /** What of the log's files cannot be drawn, in words. */
  readonly lacking: readonly string[];
}

/**
 * The samples of all logger files of the log. Those that are missing are read again from their file, beside the screens.
 * @param changed told when more samples have come
 */
export function useSamples(view: View, changed: () => void): Samples {
  const { db } = openStore();
  const files = useSignal<readonly SampleFileRow[] | null>(null);
  const lacking = useSignal<readonly string[]>([]);
  const settled = useSignal(false);
  const source = useMemo(() => new SampleSource(db, changed), [db]);
  const wanted = loggerFiles(view);
  const ids = wanted.map(({ body }) => samplesId(body.file.hash, body.mapping));
  // A file that has come meanwhile is read.
  const arrived = wanted.filter(({ body }) => blobsHere.value?.has(body.file.hash)).length;
  useEffect(() => {
    let wantedStill = true;
    const look = async () => {
      const here = (await source.files(ids)).filter((f) => f !== undefined);
      if (wantedStill) files.value = here;
      return here;
    };
    const all = async () => {
      const here = await look();
      const missing = wanted.filter((_, i) => !here.some((f) => f.id === ids[i]));
      lacking.value = [];
      for (const { body, entry } of missing) {
        if (!wantedStill) return;
        const fault = await readAgain(db.casting, body, Date.parse(entry.recordedAt));
        if (fault && wantedStill) lacking.value = [...lacking.peek(), fault];
      }
      if (missing.length > 0) await look();
    };
    settled.value = false;
    all()
      .catch((error: unknown) => {
        if (wantedStill) lacking.value = [...lacking.peek(), `The samples cannot be read: ${String(error)}`];
      })
      .finally(() => {
        if (wantedStill) settled.value = true;
      });
    return () => {
      wantedStill = false;
    };
  }, [source, ids.join(), arrived]);
  return { source, settled: settled.value, files: files.value, lacking: lacking.value };
}

/** Reads a file again; what is wrong in words, or null. */
async function readAgain(
  casting: string,
  { file, mapping }: ReturnType<typeof loggerFiles>[number]['body'],
  recorded_ms: number,
): Promise<string | null> {
  const beside = new LoggerBeside();
  try {
    const here = await beside.rebuild(casting, { hash: file.hash, name: file.name, mapping, recorded_ms });
    if (here) return null;
    askForPhoto(file.hash);
    return `${file.name} is not on this tablet yet: its entry is here, the file travels apart and is asked for.`;
  } catch (error) {
    return `${file.name} cannot be read again: ${error instanceof Error ? error.message : String(error)}`;
  } finally {
    beside.end();
  }
}
