import { effect, signal } from '@preact/signals';
import { carryPhotos } from '../../../shared/sync/carry-photos.ts';
import type { CastingStore } from '../storage/casting-store.ts';
import { PhotoStore } from '../storage/photo-store.ts';
import { photoPort } from '../sync/photo-port.ts';
import { TabletPhotoShelf } from '../sync/photo-shelf.ts';
import type { ServerLink } from '../sync/server-requests.ts';
import { lookAtBlobs, photosAsked } from './photos-here.ts';
import { onPassEnded, serverLink } from './server-link.ts';
import { phase, store } from './tablet.ts';

/** How many photos of this tablet are not known to be on the server; null while none is joined. */
export const photosUnsent = signal<number | null>(null);

/** So many of the newest are asked after once the app is opened: a server that was put back to a backup lacks those. */
const ASKED_AFTER = 8;

/** Carries the open casting's photos while the app is open: after the entries, and at once when one is asked for. */
export function keepCarryingPhotos(): void {
  let carrier: PhotoCarrier | null = null;
  effect(() => {
    carrier?.end();
    carrier = null;
    photosUnsent.value = null;
    if (phase.value === 'open' && store.value && serverLink.value)
      carrier = new PhotoCarrier(store.value, serverLink.value);
  });
  effect(() => {
    if (photosAsked.value.size > 0) carrier?.start();
  });
  onPassEnded(() => carrier?.start());
}

/** One pass at a time; one that is broken off at any point goes on with the next. */
class PhotoCarrier {
  private isRunning = false;
  private again = false;
  private hasLookedBack = false;
  private readonly ending = new AbortController();
  private readonly shelf: TabletPhotoShelf;
  /** What was refused for good, or was not what its name says: not tried again until the app is opened anew. */
  private readonly without = new Set<string>();

  constructor(
    private readonly open: CastingStore,
    private readonly link: ServerLink,
  ) {
    this.shelf = new TabletPhotoShelf(open, link.address, () => photosAsked.peek(), lookAtBlobs);
  }

  start(): void {
    if (this.isRunning) {
      this.again = true;
      return;
    }
    this.isRunning = true;
    this.run()
      .catch((error: unknown) => {
        if (!this.hasEnded) console.warn('Photos wait for the next pass', error);
      })
      .finally(() => {
        this.isRunning = false;
      });
  }

  end(): void {
    this.ending.abort();
  }

  private get hasEnded(): boolean {
    return this.ending.signal.aborted;
  }

  private async run(): Promise<void> {
    do {
      this.again = false;
      await this.inTurn(() => this.pass());
    } while (this.again && !this.hasEnded);
  }

  /** One window of this tablet carries at a time: another that is at it does the work of this one too. */
  private async inTurn(work: () => Promise<void>): Promise<void> {
    const name = `lehrbook-photos/${this.open.db.casting}`;
    await navigator.locks.request(name, { ifAvailable: true }, (lock) => (lock === null ? undefined : work()));
  }

  private async pass(): Promise<void> {
    if (this.hasEnded) return;
    const port = photoPort(this.link, this.ending.signal);
    if (!this.hasLookedBack) await this.lookBack(port);
    const { refused } = await carryPhotos(port, this.shelf, {
      without: this.without,
      stopped: () => this.hasEnded,
    });
    for (const [hash, why] of refused) {
      this.without.add(hash);
      console.warn(`A photo is not carried: ${why}`, hash);
    }
    if (!this.hasEnded) photosUnsent.value = (await this.shelf.unsent()).filter(({ whole }) => whole).length;
  }

  /** Where the server lacks one of the newest that it once had, all are asked after anew. */
  private async lookBack(port: ReturnType<typeof photoPort>): Promise<void> {
    const sent = await this.shelf.newestSent(ASKED_AFTER);
    for (const hash of sent) {
      if ((await port.state(hash))?.complete) continue;
      await new PhotoStore(this.open.db).unmarkSent();
      break;
    }
    this.hasLookedBack = true;
  }
}
