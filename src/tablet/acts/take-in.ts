import { Log } from '../../../shared/logbook/log.ts';
import { judge } from '../../../shared/logbook/state/derived.ts';
import { type View, viewOf } from '../../../shared/logbook/state/view.ts';
import type { ProvenLine } from '../../../shared/sync/file-batch.ts';
import { type Preview, previewOf } from '../../../shared/sync/preview.ts';
import { openStore, openView } from '../app/tablet.ts';
import type { EntriesFile } from './open-file.ts';

/** What a file would bring, with the casting as it would stand then, for the words. */
export interface FilePreview extends Preview {
  /** Entries of the file that are here already. */
  readonly known: number;
  readonly after: View;
}

/** Entries between two rests, so that the screens stay free. */
const REST_EVERY = 2_000;

/** Works out what a file would change; nothing is written. Null where the file and this tablet together hold no plan. */
export async function previewFile(file: EntriesFile): Promise<FilePreview | null> {
  const before = openView();
  const lines = file.batches.flat();
  const fresh = lines.filter((l) => !before.log.get(l.hash));
  const after = await viewWith(before, fresh);
  if (!after) return null;
  const kept = fresh.flatMap((l) => after.log.get(l.hash) ?? []);
  return { ...previewOf(before, after, kept, Date.now()), known: lines.length - fresh.length, after };
}

/** A casting as it would stand with further entries. */
export async function viewWith(before: View, fresh: readonly ProvenLine[]): Promise<View | null> {
  const log = new Log(before.log.casting);
  let added = 0;
  for (const { entry, hash, signature } of [...before.log.all(), ...fresh]) {
    log.add(entry, hash, signature);
    added += 1;
    if (added % REST_EVERY === 0) await rest();
  }
  return viewOf(log, judge);
}

/** Takes a file in, one transaction a batch. What was stored before something failed stays, and is not doubled the next time. */
export async function takeIn(file: EntriesFile, onProgress: (done: number, of: number) => void): Promise<number> {
  const store = openStore();
  const of = file.batches.reduce((sum, batch) => sum + batch.length, 0);
  let done = 0;
  let added = 0;
  for (const batch of file.batches) {
    onProgress(done, of);
    added += (await store.receive(batch.map((l) => l.text))).added;
    done += batch.length;
    await rest();
  }
  onProgress(done, of);
  return added;
}

const rest = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));
