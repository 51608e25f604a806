import { createHash } from 'node:crypto';
import { gunzipSync, gzipSync } from 'node:zlib';
import { canonicalJson } from '../../shared/logbook/canonical.ts';
import type { Link } from './chains.ts';

/** The header of a batch, as docs/sync.md lays it out: written here anew, not with the server's own code. */
export function headerOf(links: readonly Link[], change: object = {}): string {
  const heads: Record<string, [number, string][]> = {};
  const followed = new Set(links.map((l) => l.prev));
  for (const { device, seq, hash } of links) {
    if (!followed.has(hash)) heads[device] = [...(heads[device] ?? []), [seq, hash]];
  }
  return JSON.stringify({ says: 'entries', entries: links.length, heads, ...change });
}

/** A batch as text: header and lines. */
export const batchText = (links: readonly Link[], change: object = {}): string =>
  [headerOf(links, change), ...links.map((l) => l.text)].map((line) => `${line}\n`).join('');

export const zipped = (text: string): Buffer => gzipSync(text);

/** The entries of what a server gave, each with the `prev` and `seq` that it may have left out; worked out here anew. */
export function linesOf(bytes: Buffer): string[] {
  const last = new Map<string, { seq: number; prev: string }>();
  return gunzipSync(bytes)
    .toString()
    .split('\n')
    .slice(1, -1)
    .map((line) => {
      const given = JSON.parse(line) as { device: string; seq?: number };
      const entry = { ...last.get(given.device), ...given };
      const text = canonicalJson(entry);
      last.set(given.device, { seq: entry.seq! + 1, prev: createHash('sha256').update(text).digest('hex') });
      return text;
    });
}
