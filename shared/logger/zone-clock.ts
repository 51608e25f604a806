import { ZoneDays } from '../plan/network/zone-days.ts';

const DAY_MS = 86_400_000;
/** Clocks are put forward and back on quarters of an hour. */
const BLOCK_MS = 900_000;

/** From what the clocks of a zone show to the instant: one, none where they were put forward, two where they were put back. */
export class ZoneClock {
  private readonly zone: ZoneDays;
  private readonly offsets = new Map<number, readonly number[]>();

  /** @throws {RangeError} for a zone that is not in the IANA data base */
  constructor(timeZone: string) {
    this.zone = new ZoneDays(timeZone);
  }

  /** @param shown_ms what the clocks show, written as if it were UTC */
  instants(shown_ms: number): number[] {
    return this.offsetsAt(Math.floor(shown_ms / BLOCK_MS)).map((offset) => shown_ms - offset);
  }

  private offsetsAt(block: number): readonly number[] {
    const known = this.offsets.get(block);
    if (known) return known;
    const shown_ms = block * BLOCK_MS;
    const near = new Set([shown_ms - DAY_MS, shown_ms + DAY_MS].map((at) => this.zone.offset_ms(at)));
    // The greater offset is the earlier instant.
    const found = [...near].filter((offset) => this.zone.offset_ms(shown_ms - offset) === offset).sort((a, b) => b - a);
    this.offsets.set(block, found);
    return found;
  }
}
