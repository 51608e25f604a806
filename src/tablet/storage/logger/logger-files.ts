import { checkSize, FileFault } from '../../../../shared/logger/file-fault.ts';
import { type Look, lookAt } from '../../../../shared/logger/look.ts';
import { type Delimiter, type LoggerMapping, loggerMappingSchema } from '../../../../shared/logger/mapping.ts';
import { TableReader } from '../../../../shared/logger/table-reader.ts';
import { type Taken, Taking } from '../../../../shared/logger/taking.ts';
import { encodingOf } from '../../../../shared/logger/text-bytes.ts';
import type { CastingDatabase } from '../database.ts';
import { cacheRows, type NamedFile, samplesId } from './kept-files.ts';
import { firstBytes, readText } from './read-text.ts';

/** Told with the bytes that are read, and how many there are. */
export type ReadProgress = (done: number, of: number) => void;

const LOOKED_AT_BYTES = 256_000;

/**
 * Looks at the beginning of a file.
 * @throws {FileFault} in words, for a file that is no logger's; one that is too large is not read at all
 */
export async function lookAtFile(file: NamedFile, channels: readonly string[], parted?: Delimiter): Promise<Look> {
  checkSize(file.name, file.size);
  const bytes = await firstBytes(file, LOOKED_AT_BYTES);
  const encoding = encodingOf(bytes);
  const text = new TextDecoder(encoding).decode(bytes, { stream: file.size > bytes.length });
  return lookAt(text, encoding, channels, parted);
}

/**
 * Reads a whole file under a mapping; nothing is written.
 * @throws {FileFault} where nothing of it can be taken
 */
export async function readWhole(
  file: NamedFile,
  mapping: LoggerMapping,
  now_ms: number,
  onProgress?: ReadProgress,
): Promise<Taken> {
  checkSize(file.name, file.size);
  const taking = new Taking(mapping, now_ms);
  const table = new TableReader(mapping.delimiter);
  for await (const text of readText(file, mapping.encoding, (done) => onProgress?.(done, file.size)))
    taking.push(table.push(text));
  taking.push(table.end());
  return taking.finish();
}

/**
 * Makes the samples of a file again from its blob.
 * @param recorded_ms when it was taken in: what lay ahead of that clock is left out again
 * @returns whether they are here now: without the blob they cannot be
 * @throws {FileFault} for a mapping of another version that this one cannot follow
 */
export async function rebuildSamples(
  db: CastingDatabase,
  hash: string,
  name: string,
  mapping: LoggerMapping,
  recorded_ms: number,
  onProgress?: ReadProgress,
): Promise<boolean> {
  const blob = await db.blobs.get(hash);
  if (!blob) return false;
  const file = Object.assign(new Blob([blob.bytes]), { name });
  const known = loggerMappingSchema.safeParse(mapping);
  if (!known.success) throw new FileFault('no-channels', `This version cannot follow the mapping of ${name}.`);
  const taken = await readWhole(file, known.data, recorded_ms, onProgress);
  const { fileRow, rows } = cacheRows(samplesId(hash, mapping), taken);
  await db.transaction('rw', db.sampleFiles, db.samples, async () => {
    await db.samples.bulkPut(rows);
    await db.sampleFiles.put(fileRow);
  });
  return true;
}
