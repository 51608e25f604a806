import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { CastingDatabase } from './database.ts';

type Bytes = Uint8Array<ArrayBuffer>;

/** The name of a blob: the SHA-256 of its bytes, in hex. */
export const blobName = (bytes: Bytes): string => bytesToHex(sha256(bytes));

/**
 * The photos of a casting on this tablet, by the names that entries call them. It never touches the room that is held
 * back for entries: a photo that does not fit is not kept, the entries of a shift still are.
 */
export class PhotoStore {
  constructor(private readonly db: CastingDatabase) {}

  /**
   * Keeps blobs, all or none; resolves when they are stored for good.
   * @throws {Error} when the storage is full (`isQuotaError`).
   */
  async keep(blobs: readonly Bytes[]): Promise<void> {
    const rows = blobs.map((bytes) => ({ hash: blobName(bytes), bytes, sentTo: '' }));
    const { db } = this;
    await db.transaction('rw', db.blobs, async () => {
      const here = new Set((await db.blobs.bulkGet(rows.map((r) => r.hash))).map((row) => row?.hash));
      await db.blobs.bulkAdd(rows.filter((row) => !here.has(row.hash)));
    });
  }

  async read(hash: string): Promise<Bytes | null> {
    return (await this.db.blobs.get(hash))?.bytes ?? null;
  }

  /** The names of all that are whole here. */
  async here(): Promise<Set<string>> {
    return new Set(await this.db.blobs.toCollection().primaryKeys());
  }

  /** Takes away blobs that no entry names. */
  async forget(hashes: readonly string[]): Promise<void> {
    await this.db.blobs.bulkDelete([...hashes]);
  }

  /** The names of those that the server at an address is not known to have. */
  async unsentTo(address: string): Promise<Set<string>> {
    return new Set(await this.db.blobs.where('sentTo').notEqual(address).primaryKeys());
  }

  async markSent(hash: string, address: string): Promise<void> {
    await this.db.blobs.update(hash, { sentTo: address });
  }

  /** The server has lost some: what it has is asked for anew, one by one. */
  async unmarkSent(): Promise<void> {
    await this.db.blobs.toCollection().modify({ sentTo: '' });
  }

  async arrived(hash: string): Promise<number> {
    return (await this.db.arriving.get(hash))?.bytes.length ?? 0;
  }

  /** Adds a part to what has come; one that does not go on from it changes nothing. */
  async append(hash: string, from: number, part: Bytes): Promise<void> {
    const { db } = this;
    await db.transaction('rw', db.arriving, async () => {
      const before = (await db.arriving.get(hash))?.bytes ?? new Uint8Array();
      if (before.length !== from) return;
      const bytes = new Uint8Array(from + part.length);
      bytes.set(before);
      bytes.set(part, from);
      await db.arriving.put({ hash, bytes });
    });
  }

  /**
   * What has come is whole: kept where its SHA-256 is its name, dropped where not.
   * @param from the address that it came from, which so has it
   */
  async finish(hash: string, from: string): Promise<boolean> {
    const { db } = this;
    return db.transaction('rw', db.arriving, db.blobs, async () => {
      const come = await db.arriving.get(hash);
      await db.arriving.delete(hash);
      if (!come || blobName(come.bytes) !== hash) return false;
      await db.blobs.put({ hash, bytes: come.bytes, sentTo: from });
      return true;
    });
  }
}
