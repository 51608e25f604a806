import { keepCarryingPhotos } from './carry-photos.ts';
import { watchDueRounds } from './due-watch.ts';
import { keepInSync } from './keep-in-sync.ts';

/** What goes on by itself while the app is open; loaded after the first screen stands. */
export function workInBackground(): void {
  watchDueRounds();
  keepInSync();
  keepCarryingPhotos();
}
