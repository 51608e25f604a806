import { dayOfDate, ZoneDays } from '../../../../../shared/plan/network/zone-days.ts';

const HOUR_MIN = 60;
const DAY_MIN = 1440;
const DAY_MS = 86_400_000;
const STEPS_MIN = [5, 10, 30, HOUR_MIN, 3 * HOUR_MIN, 6 * HOUR_MIN, 12 * HOUR_MIN];
const STEPS_DAYS = [1, 2, 5, 10, 20, 50, 100];

/** Marks on a time axis in the hall's clock and the casting's days; summer time moves none of them. */
export class TimeTicks {
  private readonly days: ZoneDays;
  private readonly dayOne: number;
  /** Asking a time zone costs more than drawing what it says. */
  private readonly known = new Map<number, string>();

  constructor(timeZone: string, dayOne: string) {
    this.days = new ZoneDays(timeZone);
    this.dayOne = dayOfDate(dayOne);
  }

  /** Instants to mark, at most about one for each `apart_ms`. */
  at(from_ms: number, to_ms: number, apart_ms: number): number[] {
    const apart_min = apart_ms / 60_000;
    const minutes = STEPS_MIN.find((s) => s >= apart_min);
    const everyDay = minutes === undefined ? (STEPS_DAYS.find((d) => d * DAY_MIN >= apart_min) ?? 200) : 1;
    const marks: number[] = [];
    const first = Math.floor(from_ms / DAY_MS) - 1;
    if (minutes === undefined) {
      // Day 1 in the place of day 0, and then the round ones.
      if (everyDay > 1) marks.push(this.days.at(this.dayOne, 0));
      const round = this.dayOne - 1 + Math.ceil((first - this.dayOne + 1) / everyDay) * everyDay;
      for (let day = round; this.days.at(day, 0) <= to_ms; day += everyDay)
        if (everyDay === 1 || day !== this.dayOne - 1) marks.push(this.days.at(day, 0));
    } else {
      for (let day = first; this.days.at(day, 0) <= to_ms; day++)
        for (let at = 0; at < DAY_MIN; at += minutes) marks.push(this.days.at(day, at));
    }
    return [...new Set(marks)].filter((at) => at >= from_ms && at <= to_ms);
  }

  /** `day 44` at a midnight, `14:00` between. */
  words(at_ms: number): string {
    const known = this.known.get(at_ms);
    if (known !== undefined) return known;
    const words = this.wordsOf(at_ms);
    this.known.set(at_ms, words);
    return words;
  }

  private wordsOf(at_ms: number): string {
    const day = this.days.dayOf(at_ms);
    const minutes = Math.round((at_ms + this.days.offset_ms(at_ms) - day * DAY_MS) / 60_000);
    if (minutes === 0) return `day ${day - this.dayOne + 1}`.replace('-', '−');
    return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
  }
}
