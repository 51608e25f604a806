import { photosOf } from '../../../../shared/logbook/state/photos.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { AddPhoto } from '../../shared-screens/photos/add-photo.tsx';
import { PhotoStrip } from '../../shared-screens/photos/photo-strip.tsx';
import { shotsOfPhotos } from '../../shared-screens/photos/shots.ts';

interface Props {
  readonly view: View;
  readonly operation: string;
  readonly check: { readonly id: string; readonly text: string };
  /** Answered no: what is not so is worth a photo. */
  readonly asked: boolean;
}

/** The photos of one item of a check sheet, and where it is answered no the way to take one. */
export function ItemPhotos({ view, operation, check, asked }: Props) {
  const entries = photosOf(view, operation).filter(({ body }) => body.item === check.id);
  if (entries.length === 0 && !asked) return null;
  return (
    <div class="operation-part photo-line">
      <PhotoStrip view={view} shots={shotsOfPhotos(view, entries)} label={check.text} />
      {asked && (
        <div class="buttons">
          <AddPhoto
            id={`item/${operation}/${check.id}`}
            title={check.text}
            places={[{ label: check.text, of: { operation, item: check.id } }]}
          />
        </div>
      )}
    </div>
  );
}
