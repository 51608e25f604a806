import { canonicalJson, sha256Hex } from '../../../../shared/logbook/canonical.ts';
import type { LoggerMapping } from '../../../../shared/logger/mapping.ts';
import { type Pyramid, pyramidOf } from '../../../../shared/logger/pyramid.ts';
import type { Taken } from '../../../../shared/logger/taking.ts';
import type { CastingDatabase, SampleFileRow, SampleRow } from '../database.ts';

/** A file as the chooser gives it. */
export type NamedFile = Blob & { readonly name: string };

/**
 * Names the samples of a file read under a mapping. A version that knows no emf leaves those columns out, and what it
 * kept must not pass for the whole.
 */
export const samplesId = (hash: string, mapping: LoggerMapping): string =>
  sha256Hex(canonicalJson({ file: hash, mapping, ...(mapping.emfColumns ? { reads: 'emf' } : {}) })).slice(0, 32);

/** SHA-256 of a file's bytes, in hex. */
export async function hashOfBytes(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return [...digest].map((b) => b.toString(16).padStart(2, '0')).join('');
}

/**
 * Keeps a file and what was read from it, all or nothing.
 * @returns the hash that names the file
 */
export async function keepFile(
  db: CastingDatabase,
  file: NamedFile,
  mapping: LoggerMapping,
  taken: Taken,
): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const hash = await hashOfBytes(bytes);
  const { fileRow, rows } = cacheRows(samplesId(hash, mapping), taken);
  await db.transaction('rw', db.blobs, db.sampleFiles, db.samples, async () => {
    if (!(await db.blobs.get(hash))) await db.blobs.add({ hash, bytes, sentTo: '' });
    await db.samples.bulkPut(rows);
    await db.sampleFiles.put(fileRow);
  });
  return hash;
}

/** Takes away a file that no entry came to name. */
export async function forgetFile(db: CastingDatabase, hash: string, mapping: LoggerMapping): Promise<void> {
  const id = samplesId(hash, mapping);
  await db.transaction('rw', db.blobs, db.sampleFiles, db.samples, async () => {
    await db.blobs.delete(hash);
    await db.sampleFiles.delete(id);
    await db.samples.where('file').equals(id).delete();
  });
}

/** How a row of samples is found. */
export const sampleKey = (file: string, level: number, channel = ''): string => `${file}/${level}/${channel}`;

/** What is stored of a file's samples. */
export function cacheRows(id: string, { samples, report }: Taken): { fileRow: SampleFileRow; rows: SampleRow[] } {
  const pyramid: Pyramid = pyramidOf(samples);
  const rows: SampleRow[] = pyramid.levels.flatMap((times, level) => [
    { key: sampleKey(id, level), file: id, times },
    ...pyramid.channels.map(({ channel, levels }) => ({
      key: sampleKey(id, level, channel),
      file: id,
      values: levels[level]!,
    })),
  ]);
  const fileRow = {
    id,
    channels: samples.channels.map((c) => c.channel),
    levels: pyramid.levels.length,
    rows: report.taken,
    from_ms: report.from_ms,
    to_ms: report.to_ms,
    gap_ms: pyramid.gap_ms,
  };
  return { fileRow, rows };
}
