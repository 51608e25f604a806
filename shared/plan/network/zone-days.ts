const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

/** Days of a time zone, each as a count from 1970-01-01; their instants keep the zone's changes of summer time. */
export class ZoneDays {
  private readonly format: Intl.DateTimeFormat;
  private readonly midnights = new Map<number, number>();

  /** @throws {RangeError} for a zone that is not in the IANA data base */
  constructor(readonly timeZone: string) {
    this.format = new Intl.DateTimeFormat('en-GB', {
      timeZone,
      hourCycle: 'h23',
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      second: '2-digit',
    });
  }

  /** The day on which an instant falls. */
  dayOf(at_ms: number): number {
    return Math.floor((at_ms + this.offset_ms(at_ms)) / DAY_MS);
  }

  /**
   * The instant at which clocks show a time of a day, in minutes from midnight; 24 h is the midnight after it. A time
   * that the spring change leaves out is as far behind the change as it would have been; one that comes twice is the
   * first.
   */
  at(day: number, minutes: number): number {
    if (minutes === 0) return this.midnight(day);
    const next = this.midnight(day + 1);
    const plain = this.midnight(day) + minutes * MINUTE_MS;
    // Most days have 24 hours and one offset.
    return next - this.midnight(day) === DAY_MS ? plain : this.wall(day * DAY_MS + minutes * MINUTE_MS);
  }

  private midnight(day: number): number {
    const known = this.midnights.get(day);
    if (known !== undefined) return known;
    const found = this.wall(day * DAY_MS);
    this.midnights.set(day, found);
    return found;
  }

  /** From what clocks show, written as if it were UTC, to the instant. */
  private wall(shown_ms: number): number {
    const before = shown_ms - this.offset_ms(shown_ms - DAY_MS);
    const after = shown_ms - this.offset_ms(shown_ms + DAY_MS);
    // The earlier reading is the one that was meant where both hold; where neither does, the clocks jumped over it.
    return this.shows(before, shown_ms) || !this.shows(after, shown_ms) ? before : after;
  }

  private shows(at_ms: number, shown_ms: number): boolean {
    return at_ms + this.offset_ms(at_ms) === shown_ms;
  }

  /** What clocks are ahead of UTC by, ms. */
  offset_ms(at_ms: number): number {
    const part: Record<string, number> = {};
    for (const { type, value } of this.format.formatToParts(new Date(at_ms))) part[type] = Number(value);
    const shown = Date.UTC(part.year!, part.month! - 1, part.day, part.hour, part.minute, part.second);
    return shown - Math.floor(at_ms / 1000) * 1000;
  }
}

/** The day of a date such as `2026-03-01`, counted from 1970-01-01. */
export const dayOfDate = (date: string): number => Date.parse(`${date}T00:00:00Z`) / DAY_MS;

/** 0 for Sunday to 6 for Saturday. */
export const weekday = (day: number): number => (((day + 4) % 7) + 7) % 7;
