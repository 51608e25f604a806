import type { Body, Photo } from '../../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../../shared/logbook/log.ts';
import { stationLabel } from '../../../../shared/logbook/state/findings.ts';
import { photosIn } from '../../../../shared/logbook/state/photos.ts';
import { anyKind, type View } from '../../../../shared/logbook/state/view.ts';
import { openStore } from '../../app/tablet.ts';

/** One photo as it is shown. */
export interface Shot {
  readonly photo: Photo;
  readonly by: Kept;
  /** What it shows, in words: what its taker wrote, else what it was taken of. */
  readonly alt: string;
}

/** The photos of entries, in their order. */
export const shotsOf = (view: View, entries: readonly Kept[]): Shot[] =>
  entries.flatMap((by) => {
    const photos = photosIn(by);
    const words = wordsOf(view, by);
    return photos.map((photo, i) => ({
      photo,
      by,
      alt: photos.length === 1 ? words : `${words}, ${i + 1} of ${photos.length}`,
    }));
  });

export const shotsOfPhotos = (view: View, entries: readonly Kept<'photo'>[]): Shot[] =>
  shotsOf(view, entries.map(anyKind));

function wordsOf(view: View, { kind, body }: Kept): string {
  switch (kind as string) {
    case 'note':
      return (body as Body<'note'>).text;
    case 'finding':
      return (body as Body<'finding'>).title;
    default:
      return takenOf(view, body as Body<'photo'>);
  }
}

function takenOf(view: View, { words, wanted, characteristic, station, finding, operation }: Body<'photo'>): string {
  if (words) return wanted ? `${wanted}: ${words}` : words;
  if (wanted) return wanted;
  if (characteristic && station && station !== 'one') return `Station ${stationLabel(view, characteristic, station)}`;
  if (finding) return 'Photo of a finding';
  return operation ? `Photo of operation ${operation}` : 'Photo';
}

/** Where a photo lies that is not here: on the tablet that took it. */
export function whereWords(view: View, { by }: Shot): string {
  if (by.entry.device === openStore().device) return 'gone from this tablet, which took it';
  const tablet = view.standing.tablets().find((t) => t.device === by.entry.device)?.name ?? 'a tablet not admitted';
  return `not on this tablet yet; ${tablet} took it`;
}
