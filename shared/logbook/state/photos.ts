import type { Operation } from '../../plan/schema.ts';
import type { Body, Kind, Photo } from '../kinds.ts';
import type { Kept, Log } from '../log.ts';
import { byTime } from './readings.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

export type PhotoEntry = Kept<'photo'>;

/** The photos of an operation that stand, oldest first. */
export const photosOf = (view: View, operation: string): readonly PhotoEntry[] =>
  view.memo.get(`photos/${operation}`, () => live(view, `photo/${operation}`, 'photo').sort(byTime));

/** Photos taken of a finding after it was found. */
export const photosOfFinding = (view: View, finding: string): readonly PhotoEntry[] =>
  view.memo.get(`photos of/${finding}`, () => live(view, `photo of/${finding}`, 'photo').sort(byTime));

export const photosAtStation = (
  view: View,
  operation: string,
  characteristic: string,
  station: string,
): readonly PhotoEntry[] =>
  photosOf(view, operation).filter(({ body }) => body.characteristic === characteristic && body.station === station);

/** One line of the photos that the plan wants of an operation, with what answers it. */
export interface WantedPhotos {
  readonly wanted: string;
  readonly entries: readonly PhotoEntry[];
  readonly count: number;
  /** Somebody said why there is nothing to take a photo of. */
  readonly none: boolean;
}

export const wantedPhotos = (view: View, operation: Operation): WantedPhotos[] =>
  operation.photos.map((wanted) => {
    const entries = photosOf(view, operation.id).filter(({ body }) => body.wanted === wanted);
    const count = entries.reduce((sum, { body }) => sum + body.photos.length, 0);
    return { wanted, entries, count, none: count === 0 && entries.length > 0 };
  });

/** A photo with the entry that names it. */
export interface NamedPhoto {
  readonly photo: Photo;
  readonly by: Kept;
}

/** The kinds whose body may name photos: what an entry of another kind says need not be read for them. */
export const kindsWithPhotos: ReadonlySet<Kind> = new Set<Kind>(['photo', 'note', 'finding']);

/** The photos that an entry names. */
export const photosIn = (kept: Kept): readonly Photo[] =>
  kept.kind !== null && kindsWithPhotos.has(kept.kind) ? ((kept.body as { photos?: Photo[] }).photos ?? []) : [];

/** What the entries of a log name that travels apart from them. */
export interface NamedBlobs {
  /** Every photo that any entry names, each once: struck ones too, since what was struck stays readable. */
  readonly photos: ReadonlyMap<string, NamedPhoto>;
  /** Logger files, by hash, with their sizes. */
  readonly files: ReadonlyMap<string, number>;
}

const namedIn = new WeakMap<Log, { readonly version: number; readonly named: NamedBlobs }>();

export function namedBlobs(log: Log): NamedBlobs {
  const found = namedIn.get(log);
  if (found?.version === log.version) return found.named;
  const photos = new Map<string, NamedPhoto>();
  const files = new Map<string, number>();
  for (const by of log.all()) {
    for (const photo of photosIn(by)) if (!photos.has(photo.hash)) photos.set(photo.hash, { photo, by });
    if ((by.kind as string | null) !== 'logger') continue;
    const { hash, bytes } = (by.body as unknown as Body<'logger'>).file;
    files.set(hash, bytes);
  }
  const named = { photos, files };
  namedIn.set(log, { version: log.version, named });
  return named;
}
