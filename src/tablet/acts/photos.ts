import type { Body, Photo } from '../../../shared/logbook/kinds.ts';
import { namedBlobs } from '../../../shared/logbook/state/photos.ts';
import { openStore, openView } from '../app/tablet.ts';
import { PhotoStore } from '../storage/photo-store.ts';
import { needStored } from './photos-stored.ts';
import { act, save } from './save.ts';

/** An entry of photos, or of words on why there is none to take. */
export async function recordPhotos(body: Body<'photo'>): Promise<unknown> {
  await needStored(body.photos);
  return save(act('photo', body));
}

/** Takes a photo back that was taken and is not wanted; one that an entry names stays. */
export async function dropPhoto({ hash, small }: Photo): Promise<void> {
  if (namedBlobs(openView().log).photos.has(hash)) return;
  await new PhotoStore(openStore().db).forget([hash, small.hash]);
}
