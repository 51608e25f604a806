import { readEntry } from '../../../shared/logbook/entry.ts';
import { type CarriedLine, cut, writeBatch } from '../../../shared/sync/file-batch.ts';
import { lacking } from '../../../shared/sync/lacking.ts';
import { openStore, openView } from '../app/tablet.ts';
import { tabletSigner } from '../storage/keys.ts';
import { handOut, packFile } from '../storage/packed-file.ts';
import { storedLines } from '../storage/prove.ts';

export interface SavedFile {
  readonly name: string;
  readonly entries: number;
}

/**
 * Saves entries as a file that another tablet opens: the whole record, or only what a tablet lacks as far as is known
 * here. Every batch in it is signed by this tablet.
 */
export async function saveFile(lackedBy?: string): Promise<SavedFile> {
  const store = openStore();
  const wanted = lackedBy === undefined ? null : new Set(lacking(openView(), lackedBy).map((k) => k.hash));
  const lines: CarriedLine[] = [];
  for await (const stored of storedLines(store.db, []))
    for (const { text } of stored) {
      const read = readEntry(text, store.db.casting);
      if (!('fault' in read) && (wanted?.has(read.hash) ?? true)) lines.push({ ...read, text });
    }
  const signer = tabletSigner(store.tabletKey);
  const parts: string[] = [];
  for (const batch of cut(lines)) parts.push(await writeBatch(store.db.casting, batch, signer));
  const name = `lehrbook-${store.db.casting.slice(0, 8)}-from-${store.device.slice(0, 4)}-${lines.length}.ndjson.gz`;
  handOut(await packFile(parts), name);
  return { name, entries: lines.length };
}
