import type { Photo } from '../../../shared/logbook/kinds.ts';
import { saveFailure } from '../app/save-failure.ts';
import { openStore } from '../app/tablet.ts';
import { PhotoStore } from '../storage/photo-store.ts';

/**
 * Makes sure that all photos lie on this tablet for good, before an entry names them: no entry names what is nowhere.
 * @throws {Error} where one does not; the person has been told.
 */
export async function needStored(photos: readonly Photo[]): Promise<void> {
  const here = await new PhotoStore(openStore().db).here();
  if (photos.every((p) => here.has(p.hash) && here.has(p.small.hash))) return;
  saveFailure.value = 'photo-not-stored: leave the photo out, and take it again';
  throw new Error('A photo that is to be named is not stored here');
}
