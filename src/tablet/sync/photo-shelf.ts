import { namedPhotos } from '../../../shared/logbook/state/photos.ts';
import type { BlobNamed, PhotoShelf } from '../../../shared/sync/carry-photos.ts';
import { photosAsked } from '../app/photos-here.ts';
import type { CastingStore } from '../storage/casting-store.ts';
import { PhotoStore } from '../storage/photo-store.ts';

/**
 * Whole photos that nobody has asked for are fetched while they and all else leave half of the allowed storage free:
 * what this tablet still has to write comes first, and a photo can be asked for at any time.
 */
const SHARE_OF_STORAGE = 0.5;

/** What this tablet holds of a casting's photos, towards the server at an address. */
export class TabletPhotoShelf implements PhotoShelf {
  private readonly photos: PhotoStore;

  constructor(
    private readonly store: CastingStore,
    private readonly address: string,
  ) {
    this.photos = new PhotoStore(store.db);
  }

  async unsent(): Promise<BlobNamed[]> {
    const unsent = await this.photos.unsentTo(this.address);
    return this.named().filter(({ hash }) => unsent.has(hash));
  }

  async lacking(): Promise<BlobNamed[]> {
    const here = await this.photos.here();
    const asked = photosAsked.peek();
    const wholes = await hasRoom();
    return this.named(asked).filter(({ hash, whole, asked }) => !here.has(hash) && (!whole || asked || wholes));
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

  finish(hash: string): Promise<boolean> {
    return this.photos.finish(hash, this.address);
  }

  /** All that the entries name, small ones and whole ones, each once. */
  private named(asked: ReadonlySet<string> = new Set()): (BlobNamed & { whole: boolean; asked: boolean })[] {
    return [...namedPhotos(this.store.log).values()].flatMap(({ photo: { hash, bytes, small } }) => [
      { hash: small.hash, bytes: small.bytes, whole: false, asked: false },
      { hash, bytes, whole: true, asked: asked.has(hash) },
    ]);
  }
}

async function hasRoom(): Promise<boolean> {
  const { usage = 0, quota } = (await navigator.storage?.estimate()) ?? {};
  return quota === undefined || usage < SHARE_OF_STORAGE * quota;
}
