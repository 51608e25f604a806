import { weekday, type ZoneDays } from './zone-days.ts';

const HOUR_MS = 3_600_000;
/** Longer than any stretch of free days: past it a calendar has no working time at all. */
const LONGEST_PAUSE_DAYS = 400;

/** When people work: the hours of a day, the days of a week, and the dates on which nobody does. */
export interface Shifts {
  /** 0 for Sunday to 6 for Saturday. */
  readonly weekdays: readonly number[];
  /** Hours from midnight, as the clocks of the hall show them. */
  readonly from_h: number;
  readonly to_h: number;
  /** Days counted from 1970-01-01. */
  readonly freeDays: ReadonlySet<number>;
}

/**
 * Instants told in the working time of a calendar. Working time is counted in ms from an origin long before the casting; it
 * stands still outside the shifts, so that an instant of a night or a weekend has the working time of the shift's end.
 */
export interface WorkingTime {
  /** Working time that has passed at an instant. */
  worked(at_ms: number): number;
  /** When work begins that stands at this working time: at the end of a shift, the start of the next. */
  startAt(worked_ms: number): number;
  /** When work ends that stands at this working time: at the end of a shift, that end. */
  finishAt(worked_ms: number): number;
  /** The greatest working time whose start is not after an instant. */
  lastStartBy(at_ms: number): number;
}

/** Round the clock, every day. */
export const roundTheClock: WorkingTime = {
  worked: (at) => at,
  startAt: (worked) => worked,
  finishAt: (worked) => worked,
  lastStartBy: (at) => at,
};

interface Period {
  readonly from_ms: number;
  readonly to_ms: number;
  /** Working time that has passed when it begins. */
  readonly before_ms: number;
}

/** Working time in shifts of a time zone, from a day on; before that day nobody works. */
export class ShiftTime implements WorkingTime {
  private readonly periods: Period[] = [];
  private nextDay: number;

  /** @throws {RangeError} for shifts that never come */
  constructor(
    private readonly shifts: Shifts,
    private readonly zone: ZoneDays,
    firstDay: number,
  ) {
    this.nextDay = firstDay;
    this.extend();
  }

  worked(at_ms: number): number {
    while (this.last.to_ms < at_ms) this.extend();
    const period = this.find((p) => p.to_ms >= at_ms);
    return period.before_ms + Math.max(0, at_ms - period.from_ms);
  }

  startAt(worked_ms: number): number {
    while (this.reach <= worked_ms) this.extend();
    const period = this.find((p) => endOf(p) > worked_ms);
    return period.from_ms + Math.max(0, worked_ms - period.before_ms);
  }

  finishAt(worked_ms: number): number {
    while (this.reach < worked_ms) this.extend();
    const period = this.find((p) => endOf(p) >= worked_ms);
    return period.from_ms + Math.max(0, worked_ms - period.before_ms);
  }

  lastStartBy(at_ms: number): number {
    const worked = this.worked(at_ms);
    return this.startAt(worked) <= at_ms ? worked : worked - 1;
  }

  private get last(): Period {
    return this.periods.at(-1)!;
  }

  private get reach(): number {
    return endOf(this.last);
  }

  /** Adds the next day with a shift. */
  private extend(): void {
    const { weekdays, freeDays, from_h, to_h } = this.shifts;
    for (let looked = 0; looked < LONGEST_PAUSE_DAYS; looked++) {
      const day = this.nextDay++;
      if (!weekdays.includes(weekday(day)) || freeDays.has(day)) continue;
      const from_ms = this.zone.at(day, from_h * 60);
      const to_ms = this.zone.at(day, to_h * 60);
      this.periods.push({ from_ms, to_ms, before_ms: this.periods.length === 0 ? 0 : this.reach });
      return;
    }
    throw new RangeError(`No shift in ${LONGEST_PAUSE_DAYS} days`);
  }

  /** The first period for which something holds; it holds for all later ones, and for the last. */
  private find(holds: (period: Period) => boolean): Period {
    let low = 0;
    let high = this.periods.length - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (holds(this.periods[middle]!)) high = middle;
      else low = middle + 1;
    }
    return this.periods[low]!;
  }
}

const endOf = ({ from_ms, to_ms, before_ms }: Period): number => before_ms + to_ms - from_ms;

export const hoursToMs = (hours: number): number => Math.round(hours * HOUR_MS);
