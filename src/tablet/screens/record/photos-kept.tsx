import { useEffect, useMemo } from 'preact/hooks';
import { namedBlobs } from '../../../../shared/logbook/state/photos.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { blobsHere, lookAtBlobs } from '../../app/photos-here.ts';

/** How many photos the entries name, and how many of them lie on this tablet. */
export function PhotosKept({ view }: { view: View }) {
  const { version } = view.log;
  const named = useMemo(() => [...namedBlobs(view.log).photos.values()], [view.log, version]);
  const here = blobsHere.value;
  useEffect(() => {
    if (here === null) void lookAtBlobs();
  }, [here === null]);
  if (named.length === 0 || here === null) return null;
  const whole = named.filter(({ photo }) => here.has(photo.hash)).length;
  const small = named.filter(({ photo }) => here.has(photo.small.hash)).length;
  return (
    <p>
      <b>Photos:</b> the entries name {named.length};{' '}
      {whole === named.length
        ? 'all of them are on this tablet, each as its hash says.'
        : `${whole} of them are on this tablet whole, ${small} at least as a small one. The others lie on the tablets that took them, or on the server.`}{' '}
      A copy as a file holds entries only: photos travel over the network.
    </p>
  );
}
