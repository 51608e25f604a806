import { type nextSteps, type SyncErrorCode, syncErrors } from './errors.ts';

/** How far a blob has come on the server. */
export interface BlobThere {
  readonly here: number;
  readonly complete: boolean;
}

/** What the server said no with. */
export class PhotoRefused extends Error {
  readonly next: keyof typeof nextSteps;

  constructor(readonly code: SyncErrorCode) {
    super(code);
    this.next = syncErrors[code].next;
  }
}

/**
 * The server's blob routes.
 * @throws {PhotoRefused} what the server refuses; anything else that is thrown is a broken network.
 */
export interface PhotoPort {
  /** Null where nothing of it is there. */
  state(hash: string): Promise<BlobThere | null>;
  put(hash: string, size: number, start: number, part: Uint8Array<ArrayBuffer>): Promise<BlobThere>;
  /** The bytes of a range, or what came of it; null where the blob is not whole there. */
  get(hash: string, from: number, to: number): Promise<Uint8Array<ArrayBuffer> | null>;
}

/** A blob that is to be carried, by its name. */
export interface BlobNamed {
  readonly hash: string;
  readonly bytes: number;
  /** Somebody waits for it. */
  readonly asked?: boolean;
}

/** What the tablet holds of photos, and what it lacks. */
export interface PhotoShelf {
  /** Those that are whole here and not known to be on the server. */
  unsent(): Promise<readonly BlobNamed[]>;
  /** Those that are named and wanted here. */
  lacking(): Promise<readonly BlobNamed[]>;
  read(hash: string, from: number, to: number): Promise<Uint8Array<ArrayBuffer>>;
  markSent(hash: string): Promise<void>;
  /** Bytes of one on its way that are here already. */
  arrived(hash: string): Promise<number>;
  append(hash: string, from: number, part: Uint8Array<ArrayBuffer>): Promise<void>;
  /** Keeps one whose last byte has come; false, and nothing of it stays, where its SHA-256 is not its name. */
  finish(hash: string): Promise<boolean>;
}

export interface CarryOptions {
  /** Bytes of a part: what a broken network can cost. */
  readonly partBytes?: number;
  /** True as soon as carrying is to end; asked before each part. */
  readonly stopped?: () => boolean;
  /** Left out: refused before, or not what their name says. */
  readonly without?: ReadonlySet<string>;
}

export interface Carried {
  readonly sent: number;
  readonly fetched: number;
  /** What would not be mended by trying again, by hash. */
  readonly refused: ReadonlyMap<string, SyncErrorCode | 'spoiled'>;
  /** Broken off: by the network, by the server, or because it was to end. */
  readonly broken: boolean;
}

/** A part of so many bytes takes two seconds on a line of 1 Mbit/s. */
export const PHOTO_PART_BYTES = 262_144;
/** A large file goes in so many parts: each one costs the tablet a look at all that it has of it. */
const MOST_PARTS = 16;
/** A name that is said to stand for more is not fetched: no photo or logger file is that large. */
const MOST_BLOB_BYTES = 134_217_728;
/** Less at a time is never tried. */
const LEAST_PART_BYTES = 16_384;
/** A server that loses parts again and again is left alone until the next pass. */
const MOST_TURNS_BACK = 3;

/** Stops a pass, and says so; whatever was carried before stays carried. */
class BrokenOff extends Error {}

/**
 * Carries photos between the shelf and the server: what either lacks, small ones first, part by part. It may be broken
 * off at any byte: the next pass asks how far each has come and goes on from there.
 */
export async function carryPhotos(port: PhotoPort, shelf: PhotoShelf, options: CarryOptions = {}): Promise<Carried> {
  const pass = new Pass(port, shelf, options);
  try {
    await pass.run();
    return { ...pass.done(), broken: false };
  } catch {
    // The network, or the tablet's own storage: both may be well the next time.
    return { ...pass.done(), broken: true };
  }
}

class Pass {
  private sent = 0;
  private fetched = 0;
  private readonly refused = new Map<string, SyncErrorCode | 'spoiled'>();
  private readonly partBytes: number;
  /** What the server was found to take at a time. */
  private mostAtOnce = Number.POSITIVE_INFINITY;

  constructor(
    private readonly port: PhotoPort,
    private readonly shelf: PhotoShelf,
    private readonly options: CarryOptions,
  ) {
    this.partBytes = options.partBytes ?? PHOTO_PART_BYTES;
  }

  done(): Omit<Carried, 'broken'> {
    const { sent, fetched, refused } = this;
    return { sent, fetched, refused };
  }

  async run(): Promise<void> {
    const send = (blob: BlobNamed) => ({ blob, work: () => this.send(blob) });
    const fetch = (blob: BlobNamed) => ({ blob, work: () => this.fetch(blob) });
    const jobs = [...(await this.shelf.unsent()).map(send), ...(await this.shelf.lacking()).map(fetch)]
      .filter(({ blob }) => !this.options.without?.has(blob.hash))
      // Sorting is stable: of one size what only this tablet has goes first.
      .sort((a, b) => weight(a.blob) - weight(b.blob));
    for (const { blob, work } of jobs) await this.tried(blob.hash, work);
  }

  /** One that is refused for good holds up no other. */
  private async tried(hash: string, work: () => Promise<void>): Promise<void> {
    try {
      await work();
    } catch (error) {
      if (!(error instanceof PhotoRefused) || error.next === 'later' || error.next === 'join') throw error;
      this.refused.set(hash, error.code);
    }
  }

  private async send({ hash, bytes }: BlobNamed): Promise<void> {
    this.mayGoOn();
    let there = (await this.port.state(hash)) ?? { here: 0, complete: false };
    for (let back = 0; !there.complete; ) {
      this.mayGoOn();
      const part = await this.shelf.read(hash, there.here, Math.min(there.here + this.partOf(bytes), bytes));
      try {
        there = await this.port.put(hash, bytes, there.here, part);
      } catch (error) {
        if (!(error instanceof PhotoRefused)) throw error;
        if (error.next === 'smaller' && this.partOf(bytes) > LEAST_PART_BYTES) {
          this.mostAtOnce = Math.max(LEAST_PART_BYTES, Math.floor(this.partOf(bytes) / 2));
        } else if (error.next === 'heads' && back < MOST_TURNS_BACK) {
          back += 1;
          there = (await this.port.state(hash)) ?? { here: 0, complete: false };
        } else throw error;
      }
    }
    await this.shelf.markSent(hash);
    this.sent += 1;
  }

  private async fetch({ hash, bytes }: BlobNamed): Promise<void> {
    if (bytes > MOST_BLOB_BYTES) throw new PhotoRefused('blob-too-large');
    let from = await this.shelf.arrived(hash);
    while (from < bytes) {
      this.mayGoOn();
      const part = await this.port.get(hash, from, Math.min(from + this.partOf(bytes), bytes));
      // Its tablet has not brought it yet, or not all of it.
      if (part === null || part.length === 0) return;
      await this.shelf.append(hash, from, part);
      from += part.length;
    }
    if (await this.shelf.finish(hash)) this.fetched += 1;
    else this.refused.set(hash, 'spoiled');
  }

  private partOf(bytes: number): number {
    return Math.min(this.mostAtOnce, Math.max(this.partBytes, Math.ceil(bytes / MOST_PARTS)));
  }

  private mayGoOn(): void {
    if (this.options.stopped?.()) throw new BrokenOff();
  }
}

const weight = ({ bytes, asked }: BlobNamed): number => (asked ? 0 : bytes);
