import { useState } from 'preact/hooks';
import { photosAtStation } from '../../../../shared/logbook/state/photos.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Overlay } from '../../parts/overlay.tsx';
import { AddPhoto } from '../../shared-screens/photos/add-photo.tsx';
import { PhotoStrip } from '../../shared-screens/photos/photo-strip.tsx';
import { shotsOfPhotos } from '../../shared-screens/photos/shots.ts';
import { isSingle, type StationItem, type Survey } from './survey-of.ts';

/** The photos of the station that is worked on, and the way to take one. */
export function StationPhotos({ view, survey, item }: { view: View; survey: Survey; item: StationItem }) {
  const [open, setOpen] = useState(false);
  const { operation, characteristic } = survey;
  const station = item.station.id;
  const shots = shotsOfPhotos(view, photosAtStation(view, operation.id, characteristic.id, station));
  const title = isSingle(characteristic) ? characteristic.name : `Station ${item.station.label}`;
  const add = (
    <AddPhoto
      key={station}
      id={`station/${operation.id}/${characteristic.id}/${station}`}
      title={title}
      label="Photo"
      places={[{ label: title, of: { operation: operation.id, characteristic: characteristic.id, station } }]}
    />
  );
  if (shots.length === 0) return add;
  return (
    <>
      <button type="button" class="button" onClick={() => setOpen(true)}>
        {shots.length === 1 ? '1 photo' : `${shots.length} photos`}
      </button>
      {open && (
        <Overlay title={`Photos, ${title}`} onClose={() => setOpen(false)}>
          <PhotoStrip view={view} shots={shots} label={title} />
          <div class="buttons">{add}</div>
        </Overlay>
      )}
    </>
  );
}
