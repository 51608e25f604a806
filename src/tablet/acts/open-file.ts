import { sha256OfHex, shortHash } from '../../../shared/logbook/canonical.ts';
import { type BatchFault, checkBatch, type ProvenLine, readBatches } from '../../../shared/sync/file-batch.ts';
import { type JoinRequest, type RequestFault, readJoinRequest } from '../../../shared/sync/join-request.ts';
import { webVerifier } from '../storage/keys.ts';
import { unpackFile } from '../storage/packed-file.ts';

export interface EntriesFile {
  readonly is: 'entries';
  readonly name: string;
  readonly casting: string;
  /** The device of the tablet that saved it. */
  readonly savedBy: string;
  /** Batch by batch: what is proven. */
  readonly batches: readonly (readonly ProvenLine[])[];
  readonly faults: readonly BatchFault[];
}

export type OpenedFile =
  | EntriesFile
  | { readonly is: 'request'; readonly request: JoinRequest }
  | { readonly is: 'nothing'; readonly name: string; readonly fault: BatchFault['fault'] | RequestFault };

/**
 * Opens a file and checks all that it holds; nothing is written.
 * @param casting the open casting; left out where a tablet has none yet and takes the file's own.
 */
export async function openFile(file: File, casting?: string): Promise<OpenedFile> {
  const { text, broken } = await unpackFile(file);
  if (casting !== undefined && !broken) {
    const request = await readJoinRequest(text, casting, webVerifier);
    if (request && 'fault' in request) return { is: 'nothing', name: file.name, fault: request.fault };
    if (request) return { is: 'request', request };
  }
  const batches: ProvenLine[][] = [];
  const faults: BatchFault[] = [];
  let header: { casting: string; key: string } | null = null;
  for (const batch of readBatches(text)) {
    if ('fault' in batch) {
      faults.push(broken ? { fault: 'cut-short' } : batch);
      continue;
    }
    header ??= batch.header;
    const checked = await checkBatch(batch, casting ?? header.casting, webVerifier);
    batches.push(checked.proven);
    faults.push(...checked.faults);
  }
  if (broken && !faults.some((f) => f.fault === 'cut-short')) faults.push({ fault: 'cut-short' });
  if (!header) return { is: 'nothing', name: file.name, fault: faults[0]?.fault ?? 'not-a-batch' };
  return {
    is: 'entries',
    name: file.name,
    casting: casting ?? header.casting,
    savedBy: shortHash(sha256OfHex(header.key)),
    batches,
    faults,
  };
}
