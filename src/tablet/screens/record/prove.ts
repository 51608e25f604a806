import { checkSignature } from '../../../../shared/logbook/crypto.ts';
import { readEntry } from '../../../../shared/logbook/entry.ts';
import type { CastingStore } from '../../storage/casting-store.ts';
import { webVerifier } from '../../storage/keys.ts';

export interface Proof {
  readonly entries: number;
  readonly signatures: number;
  readonly faults: readonly string[];
}

/** Reads every stored row again and checks its hash, its line to the one before, and its signature. */
export async function proveChains(store: CastingStore, onProgress: (done: number, of: number) => void): Promise<Proof> {
  const rows = await store.db.entries.orderBy('[device+seq]').toArray();
  const hashes = new Map(rows.map((r) => [r.hash, r]));
  const faults: string[] = [];
  let signatures = 0;
  for (const [index, row] of rows.entries()) {
    const place = `tablet ${row.device.slice(0, 8)}, entry ${row.seq}`;
    const read = readEntry(row.text, store.db.casting);
    if ('fault' in read) faults.push(`${place}: ${read.fault}`);
    else {
      const { entry, hash } = read;
      if (hash !== row.hash) faults.push(`${place}: its bytes were changed`);
      const before = entry.prev === null ? undefined : hashes.get(entry.prev);
      const follows =
        entry.seq === 1 ? entry.prev === null : before?.device === entry.device && before.seq === entry.seq - 1;
      if (!follows) faults.push(`${place}: the entry before it is missing or another one`);
      const signature = await checkSignature(entry, webVerifier);
      if (signature === 'bad') faults.push(`${place}: its signature does not fit`);
      if (signature === 'good') signatures += 1;
    }
    if (index % 200 === 0) onProgress(index, rows.length);
  }
  return { entries: rows.length, signatures, faults };
}
