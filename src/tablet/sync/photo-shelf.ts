import { namedBlobs } from '../../../shared/logbook/state/photos.ts';
import type { BlobNamed, PhotoShelf } from '../../../shared/sync/carry-photos.ts';
import type { CastingStore } from '../storage/casting-store.ts';
import { PhotoStore } from '../storage/photo-store.ts';

/**
 * Whole photos that nobody has asked for are fetched while they and all else leave half of the allowed storage free:
 * what this tablet still has to write comes first, and a photo can be asked for at any time.
 */
const SHARE_OF_STORAGE = 0.5;

/** A blob that an entry names: a whole photo or its small one, or a logger's file. */
interface OwnBlob extends BlobNamed {
  readonly whole: boolean;
}

/** What this tablet holds of a casting's photos, towards the server at an address. */
export class TabletPhotoShelf implements PhotoShelf {
  private readonly photos: PhotoStore;

  constructor(
    private readonly store: CastingStore,
    private readonly address: string,
    /** Whole photos that somebody waits for. */
    private readonly asked: () => ReadonlySet<string>,
    /** Hears that one more lies here. */
    private readonly arrival: () => Promise<void>,
  ) {
    this.photos = new PhotoStore(store.db);
  }

  async unsent(): Promise<OwnBlob[]> {
    const unsent = await this.photos.unsentTo(this.address);
    return this.named().filter(({ hash }) => unsent.has(hash));
  }

  /** The names of so many that the server is known to have, those of the latest entries. */
  async newestSent(count: number): Promise<string[]> {
    const [here, unsent] = [await this.photos.here(), await this.photos.unsentTo(this.address)];
    return this.named()
      .map(({ hash }) => hash)
      .filter((hash) => here.has(hash) && !unsent.has(hash))
      .slice(-count);
  }

  async lacking(): Promise<BlobNamed[]> {
    const here = await this.photos.here();
    const wholes = await hasRoom();
    return this.named().filter((blob) => !here.has(blob.hash) && (!blob.whole || blob.asked || wholes));
  }

  read(hash: string, from: number, to: number): Promise<Uint8Array<ArrayBuffer>> {
    return this.photos.read(hash).then((bytes) => bytes!.slice(from, to));
  }

  markSent(hash: string): Promise<void> {
    return this.photos.markSent(hash, this.address);
  }

  arrived(hash: string): Promise<number> {
    return this.photos.arrived(hash);
  }

  append(hash: string, from: number, part: Uint8Array<ArrayBuffer>): Promise<void> {
    return this.photos.append(hash, from, part);
  }

  async finish(hash: string): Promise<boolean> {
    const good = await this.photos.finish(hash, this.address);
    if (good) await this.arrival();
    return good;
  }

  /** All that the entries name: small photos and whole ones, logger files. */
  private named(): OwnBlob[] {
    const asked = this.asked();
    const { photos, files } = namedBlobs(this.store.log);
    return [
      ...[...photos.values()].flatMap(({ photo: { hash, bytes, small } }) => [
        { hash: small.hash, bytes: small.bytes, whole: false, asked: false },
        { hash, bytes, whole: true, asked: asked.has(hash) },
      ]),
      ...[...files].map(([hash, bytes]) => ({ hash, bytes, whole: true, asked: asked.has(hash) })),
    ];
  }
}

async function hasRoom(): Promise<boolean> {
  const { usage = 0, quota } = (await navigator.storage?.estimate()) ?? {};
  return quota === undefined || usage < SHARE_OF_STORAGE * quota;
}
