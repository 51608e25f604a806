import { signal } from '@preact/signals';
import { type Carried, carryPhotos } from '../../../shared/sync/carry-photos.ts';
import { lookAtBlobs, photosAsked } from '../app/photos-here.ts';
import type { CastingStore } from '../storage/casting-store.ts';
import { photoPort } from './photo-port.ts';
import { TabletPhotoShelf } from './photo-shelf.ts';
import type { ServerLink } from './server-requests.ts';

/** How the last pass of photos went; null before the first. */
export const photosCarried = signal<Carried | null>(null);

/** One window of a tablet carries photos at a time. */
const LOCK = 'lehrbook photos';

/** A request that has had no answer for so long is lost; the next pass goes on. */
const ANSWER_WITHIN_ms = 120_000;

/**
 * Carries photos after the entries: each time sync has nothing left to carry, and at once when somebody asks for one
 * that lies elsewhere. Broken off at any point, it goes on with the next pass.
 */
export class PhotoCarrier {
  private running: Promise<void> | null = null;
  private again = false;
  private hasEnded = false;
  private asking = new AbortController();
  /** What was refused for good, or was not what its name says: not tried again until the app is opened anew. */
  private readonly without = new Set<string>();
  private readonly stopAsked: () => void;

  constructor(
    private readonly store: CastingStore,
    private readonly link: ServerLink,
  ) {
    let first = true;
    this.stopAsked = photosAsked.subscribe(() => {
      if (!first) this.start();
      first = false;
    });
  }

  /** Begins a pass; one that runs goes on, and another follows it. */
  start(): void {
    if (this.hasEnded) return;
    if (this.running) {
      this.again = true;
      return;
    }
    this.running = this.inTurn().finally(() => {
      this.running = null;
      if (this.again) {
        this.again = false;
        this.start();
      }
    });
  }

  end(): void {
    this.hasEnded = true;
    this.stopAsked();
    this.asking.abort();
  }

  private async inTurn(): Promise<void> {
    try {
      if (navigator.locks) await navigator.locks.request(LOCK, { signal: this.asking.signal }, () => this.pass());
      else await this.pass();
    } catch (error) {
      if (!this.hasEnded) console.warn('Photos wait for the next pass', error);
    }
  }

  private async pass(): Promise<void> {
    const { store, link, without } = this;
    const lost = setTimeout(() => this.asking.abort(), ANSWER_WITHIN_ms);
    const shelf = new TabletPhotoShelf(store, link.address);
    const carried = await carryPhotos(photoPort(link, this.asking.signal), shelf, {
      without,
      stopped: () => this.hasEnded || !store.db.isOpen(),
    });
    clearTimeout(lost);
  }
}
