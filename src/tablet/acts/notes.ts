import type { Photo } from '../../../shared/logbook/kinds.ts';
import { act, save } from './save.ts';

/** A note on nothing in particular: what somebody saw, heard or smelt. */
export const note = (text: string): Promise<unknown> => save(act('note', { text }));

/** A note on an operation or a finding, with the photos that were taken for it. */
export async function noteAbout(
  about: { readonly operation: string } | { readonly finding: string },
  text: string,
  photos: readonly Photo[],
): Promise<unknown> {
  const subject = 'operation' in about ? { operation: about.operation } : { about: about.finding };
  if (photos.length === 0) return save(act('note', { ...subject, text }));
  await (await import('./photos-stored.ts')).needStored(photos);
  return save(act('note', { ...subject, text, photos: [...photos] }));
}
