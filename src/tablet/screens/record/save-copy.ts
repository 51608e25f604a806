import { canonicalJson } from '../../../../shared/logbook/canonical.ts';
import { signHead } from '../../../../shared/logbook/heads.ts';
import type { CastingStore } from '../../storage/casting-store.ts';
import { tabletSigner } from '../../storage/keys.ts';
import { storedLines } from '../../storage/prove.ts';

/**
 * Saves the whole record as a text file: one canonical entry a line, in the order in which they came, and this tablet's signed head as
 * the last line. It proves from nothing but itself.
 * @returns the file's name.
 */
export async function saveCopy(store: CastingStore): Promise<string> {
  const head = store.log.head(store.device);
  const damaged: string[] = [];
  const lines: string[] = [];
  for await (const stored of storedLines(store.db, damaged)) lines.push(...stored.map((line) => line.text));
  if (head) {
    const said = { casting: store.db.casting, device: store.device, seq: head[0], hash: head[1] };
    lines.push(canonicalJson(await signHead(said, tabletSigner(store.tabletKey))));
  }
  const name = `lehrbook-${store.db.casting.slice(0, 8)}-${head?.[0] ?? 0}.ndjson`;
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([`${lines.join('\n')}\n`], { type: 'application/x-ndjson' }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return name;
}
