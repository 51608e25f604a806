import { useEffect, useState } from 'preact/hooks';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { askForPhoto } from '../../app/photos-here.ts';
import { Overlay } from '../../parts/overlay.tsx';
import { saidBy } from '../said-by.tsx';
import { type Shot, whereWords } from './shots.ts';
import { usePhotoUrl } from './use-photo-url.ts';

interface Props {
  readonly view: View;
  readonly shots: readonly Shot[];
  /** Which one is shown first. */
  readonly start: number;
  readonly onClose: () => void;
}

/** One photo, whole, with its words; the arrow keys and buttons go to the others, Escape closes. */
export function PhotoViewer({ view, shots, start, onClose }: Props) {
  const [at, setAt] = useState(start);
  const [full, setFull] = useState(false);
  const shot = shots[Math.min(at, shots.length - 1)]!;
  const go = (step: number) => {
    setFull(false);
    setAt((from) => (from + step + shots.length) % shots.length);
  };
  useEffect(() => {
    const onKey = ({ key }: KeyboardEvent) => {
      // At full size they move the picture.
      if (full) return;
      if (key === 'ArrowLeft') go(-1);
      if (key === 'ArrowRight') go(1);
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [shots.length, full]);
  return (
    <Overlay
      title={shots.length === 1 ? 'Photo' : `Photo ${at + 1} of ${shots.length}`}
      class="photo-viewer"
      onClose={onClose}
    >
      <Whole view={view} shot={shot} full={full} />
      <p>{shot.alt}</p>
      <p class="small dim">
        {saidBy(view, shot.by)} · <span class="n">{shot.photo.width}</span> × <span class="n">{shot.photo.height}</span>
      </p>
      <div class="buttons">
        {shots.length > 1 && (
          <>
            <button type="button" class="button" onClick={() => go(-1)}>
              Before
            </button>
            <button type="button" class="button" onClick={() => go(1)}>
              Next
            </button>
          </>
        )}
        <button type="button" class="button" aria-pressed={full} onClick={() => setFull(!full)}>
          {full ? 'Fit it in' : 'Full size'}
        </button>
        <a class="button" href={`/record/${shot.by.hash}`}>
          Its entry
        </a>
      </div>
    </Overlay>
  );
}

const ASKED = 'It is asked for first when this tablet reaches the server.';

/** The whole photo; while it lies elsewhere the small one, and where the whole one is. */
function Whole({ view, shot, full }: { view: View; shot: Shot; full: boolean }) {
  const { photo, alt } = shot;
  const whole = usePhotoUrl(photo.hash);
  const small = usePhotoUrl(photo.small.hash);
  const missing = whole === 'not-here';
  useEffect(() => {
    if (missing) askForPhoto(photo.hash);
  }, [missing, photo.hash]);
  const url = missing ? small : whole;
  return (
    <>
      {url === 'not-here' ? (
        <div class="empty photo-nothing">
          <p>
            The photo is {whereWords(view, shot)}. {ASKED}
          </p>
        </div>
      ) : (
        <div class={`photo-whole ${full ? 'full' : ''}`} tabIndex={full ? 0 : undefined}>
          <img src={url ?? undefined} alt={alt} width={photo.width} height={photo.height} />
        </div>
      )}
      {missing && url !== 'not-here' && (
        <p class="photo-waits" role="status">
          This is the small one. The whole photo is {whereWords(view, shot)}. {ASKED}
        </p>
      )}
    </>
  );
}
