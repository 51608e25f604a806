import { checkSignature } from '../../../shared/logbook/crypto.ts';
import { type Entry, readEntry } from '../../../shared/logbook/entry.ts';
import type { ProvenLine } from '../../../shared/sync/file-batch.ts';
import type { StoredEntry } from '../../../shared/sync/port.ts';
import { webVerifier } from '../storage/keys.ts';

/** Reads the lines of an answer once, and keeps what was read until their signatures are checked. */
export class PageReader {
  private readonly entries = new Map<string, Entry>();

  readonly read = (text: string, casting: string): ReturnType<typeof readEntry> => {
    const found = readEntry(text, casting);
    if (!('fault' in found)) this.entries.set(found.hash, found.entry);
    return found;
  };

  /** The sound ones, of this page or of one that was checked beside, with the check of their signatures; the others are forgotten. */
  async proven(sound: readonly StoredEntry[]): Promise<ProvenLine[]> {
    const read = ({ text, hash }: StoredEntry) => this.entries.get(hash) ?? (JSON.parse(text) as Entry);
    const lines = sound.map((stored) => ({ text: stored.text, hash: stored.hash, entry: read(stored) }));
    this.entries.clear();
    return Promise.all(
      lines.map(async (line) => ({ ...line, signature: await checkSignature(line.entry, webVerifier) })),
    );
  }
}
