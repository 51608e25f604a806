import { useRef, useState } from 'preact/hooks';
import { PHOTOS_MAX, type Photo } from '../../../../shared/logbook/kinds.ts';
import { dropPhoto } from '../../acts/photos.ts';
import { PhotoFault, type PhotoFaultCode, takePhoto } from '../../acts/take-photo.ts';
import { FileButton } from '../file-button.tsx';
import { SmallPhoto } from './photo-strip.tsx';
import './photos.css';

/** What a draft keeps of photos that no entry names yet. */
export interface PhotosDraft {
  readonly latest: () => { readonly photos: readonly Photo[] };
  readonly change: (part: { photos: readonly Photo[] }) => void;
}

/**
 * Takes photos into a draft: with the camera, or from what the tablet has. Each lies shrunk on this tablet before it
 * stands here, so that closing the app loses none.
 */
export function PhotoField({ photos, draft, main }: { photos: readonly Photo[]; draft: PhotosDraft; main?: boolean }) {
  const { waiting, fault, take, leaveOut } = useTaking(draft);
  return (
    <div class="photo-field">
      {photos.length > 0 && (
        <ul class="photo-strip" aria-label="Photos taken, not saved yet">
          {photos.map((photo, i) => (
            <li key={photo.hash}>
              <SmallPhoto hash={photo.small.hash} alt={`Photo ${i + 1}`} where="not on this tablet any more" />
              <button
                type="button"
                class="button"
                aria-label={`Leave photo ${i + 1} out`}
                onClick={() => leaveOut(photo)}
              >
                Leave out
              </button>
            </li>
          ))}
        </ul>
      )}
      <div class="buttons">
        <FileButton
          label={photos.length === 0 ? 'Take a photo' : 'Take another'}
          main={main && photos.length === 0}
          busy={waiting > 0}
          accept="image/*"
          camera
          onFile={take}
        />
        <FileButton label="From the gallery" busy={waiting > 0} accept="image/*" multiple onFile={take} />
      </div>
      {waiting > 0 && (
        <p class="small" role="status">
          Shrinking {waiting === 1 ? 'the photo' : `${waiting} photos`} …
        </p>
      )}
      {fault && (
        <div class="error" role="alert">
          <b>{FAULTS[fault].what}</b>
          <p>{FAULTS[fault].next}</p>
          <code>{fault}</code>
        </div>
      )}
    </div>
  );
}

type Fault = PhotoFaultCode | 'too-many';

const FAULTS: { readonly [F in Fault]: { what: string; next: string } } = {
  'not-a-photo': {
    what: 'This file does not open as a photo here',
    next: 'It is damaged, or of a format that this browser does not read (HEIC often is). Take the photo with the button above, or save it as JPEG first. What you typed and took before stays.',
  },
  'too-large': {
    what: 'The file is larger than 100 MB',
    next: 'It was not opened. Take the photo with the button above, or save a smaller copy first.',
  },
  'storage-full': {
    what: 'The storage of this tablet is full: the photo was not kept',
    next: 'Entries still fit. What you typed and took before stays. Take the photo with another tablet, and see in Setup what fills this one.',
  },
  'not-stored': {
    what: 'The tablet could not store the photo',
    next: 'Try once more. What you typed and took before stays.',
  },
  'too-many': {
    what: `One entry holds at most ${PHOTOS_MAX} photos`,
    next: 'Save these, then take the others.',
  },
};

function useTaking(draft: PhotosDraft) {
  const [waiting, setWaiting] = useState(0);
  const [fault, tell] = useState<Fault | null>(null);
  // One at a time: a photo as the camera gives it takes a hundred megabytes to open.
  const queue = useRef<Promise<void>>(Promise.resolve());
  const takeOne = async (file: File) => {
    if (draft.latest().photos.length >= PHOTOS_MAX) return tell('too-many');
    try {
      const photo = await takePhoto(file);
      const { photos } = draft.latest();
      if (!photos.some((p) => p.hash === photo.hash)) draft.change({ photos: [...photos, photo] });
    } catch (error) {
      tell(error instanceof PhotoFault ? error.code : 'not-stored');
    }
  };
  const take = (file: File) => {
    tell(null);
    setWaiting((n) => n + 1);
    queue.current = queue.current.then(() => takeOne(file)).finally(() => setWaiting((n) => n - 1));
  };
  const leaveOut = (photo: Photo) => {
    draft.change({ photos: draft.latest().photos.filter((p) => p.hash !== photo.hash) });
    void dropPhoto(photo);
  };
  return { waiting, fault, take, leaveOut };
}
