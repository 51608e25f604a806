import { useState } from 'preact/hooks';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { PhotoViewer } from './photo-viewer.tsx';
import { type Shot, whereWords } from './shots.ts';
import { usePhotoUrl } from './use-photo-url.ts';
import './photos.css';

/** Small photos in a row that wraps; a tap opens one whole. */
export function PhotoStrip({ view, shots, label }: { view: View; shots: readonly Shot[]; label: string }) {
  const [open, setOpen] = useState<number | null>(null);
  if (shots.length === 0) return null;
  return (
    <>
      <ul class="photo-strip" aria-label={label}>
        {shots.map((shot, i) => (
          <li key={`${shot.by.hash} ${shot.photo.hash}`}>
            <button type="button" class="photo-open" onClick={() => setOpen(i)}>
              <SmallPhoto hash={shot.photo.small.hash} alt={shot.alt} where={whereWords(view, shot)} />
            </button>
          </li>
        ))}
      </ul>
      {open !== null && <PhotoViewer view={view} shots={shots} start={open} onClose={() => setOpen(null)} />}
    </>
  );
}

/** A small photo, or what stands in its place while it is elsewhere. */
export function SmallPhoto({ hash, alt, where }: { hash: string; alt: string; where: string }) {
  const url = usePhotoUrl(hash);
  if (url === 'not-here')
    return (
      <span class="photo-missing note">
        <span class="hidden-text">{alt}: </span>
        {where}
      </span>
    );
  return <img class="photo-small" src={url ?? undefined} alt={alt} />;
}
