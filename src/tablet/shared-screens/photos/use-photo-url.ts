import { useEffect, useState } from 'preact/hooks';
import { blobsHere, lookAtBlobs } from '../../app/photos-here.ts';
import { openStore } from '../../app/tablet.ts';
import { PhotoStore } from '../../storage/photo-store.ts';

/**
 * An address for a photo of this tablet, for as long as it is shown; null while it is read, `not-here` where it lies
 * elsewhere.
 */
export function usePhotoUrl(hash: string): string | null {
  const names = blobsHere.value;
  const here = names?.has(hash) ?? null;
  const [shown, show] = useState<{ hash: string; url: string } | null>(null);
  useEffect(() => {
    if (names === null) void lookAtBlobs();
  }, [names === null]);
  useEffect(() => {
    if (!here) return;
    let wanted = true;
    let url: string | null = null;
    void new PhotoStore(openStore().db).read(hash).then((bytes) => {
      if (!wanted || !bytes) return;
      // Shown as a picture whatever the entry calls it: nothing else of another tablet is ever run or laid out here.
      url = URL.createObjectURL(new Blob([bytes], { type: 'image/jpeg' }));
      show({ hash, url });
    });
    return () => {
      wanted = false;
      if (url !== null) URL.revokeObjectURL(url);
    };
  }, [hash, here]);
  if (here === false) return 'not-here';
  return shown?.hash === hash ? shown.url : null;
}
