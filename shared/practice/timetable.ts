import { criticalPath } from '../calculations/critical-path.ts';
import { heatPlanHours } from '../plan/heat-plan-hours.ts';
import { elapsedDays, operationById } from '../plan/lookup.ts';
import type { HeatPlan, Plan } from '../plan/schema.ts';

export const SECOND_MS = 1000;
export const MINUTE_MS = 60 * SECOND_MS;
export const HOUR_MS = 60 * MINUTE_MS;
export const DAY_MS = 24 * HOUR_MS;

/** Where a day's work begins and how long it lasts, in hours of the day. */
const WORK_FROM_H = 7;
const WORK_FOR_H = 10.5;
/** From the last reading to the signatures and on to the next work, days. */
const SIGNING_DAYS = 0.45;

/** When the practice crew did what: moments are milliseconds since 1970. */
export interface Timetable {
  /** The moment at a share of an operation, 0 its start and 1 its end. */
  at(operation: string, share: number): number;
  /** The hour of the day on a day of the casting; day 1 is its first. */
  onDay(day: number, hour: number): number;
  /** Date of day 1. */
  readonly dayOne: string;
  /** Date of a moment. */
  date(at: number): string;
  /** ISO 8601 with the offset of the hall. */
  iso(at: number): string;
}

interface Wanted {
  readonly plan: Plan;
  /** Nothing is later than this. */
  readonly endsAt: number;
  /** The last work of the practice casting falls on the latest day on which it is past. */
  readonly last: { readonly operation: string; readonly share: number };
  /** Minutes east of Greenwich. */
  readonly utcOffset: number;
}

/** The plan's own network, its hold points put in as the time that signing takes. */
export function timetable({ plan, endsAt, last, utcOffset }: Wanted): Timetable {
  const spans = spansOf(plan);
  const local = (operation: string, share: number): number => {
    const span = spans.get(operation);
    if (!span) throw new Error(`The plan has no operation ${operation}`);
    const { from, to, heat } = span;
    if (heat) return from + share * (to - from);
    return workTime(from + share * (to - from));
  };
  const offset_ms = utcOffset * MINUTE_MS;
  const midnight = Math.floor((endsAt + offset_ms - local(last.operation, last.share)) / DAY_MS) * DAY_MS;
  const iso = (at: number) => `${new Date(at + offset_ms).toISOString().slice(0, 19)}${offsetText(utcOffset)}`;
  const onDay = (day: number, hour: number) => midnight - offset_ms + (day - 1) * DAY_MS + hour * HOUR_MS;
  return {
    at: (operation, share) => wholeSeconds(midnight - offset_ms + local(operation, share)),
    onDay,
    dayOne: iso(onDay(1, 0)).slice(0, 10),
    date: (at) => iso(at).slice(0, 10),
    iso,
  };
}

const wholeSeconds = (ms: number): number => Math.round(ms / SECOND_MS) * SECOND_MS;

/** Elapsed days, at an even pace over the week, put into the hours in which people work; ms from midnight of day 1. */
const workTime = (days: number): number =>
  Math.floor(days) * DAY_MS + (WORK_FROM_H + (days - Math.floor(days)) * WORK_FOR_H) * HOUR_MS;

/** Start and end of an operation: elapsed days, or ms from midnight of day 1 for a heat, which runs through the night. */
interface Span {
  readonly from: number;
  readonly to: number;
  readonly heat: boolean;
}

function spansOf(plan: Plan): Map<string, Span> {
  const { activities } = criticalPath.compute({ activities: network(plan) });
  return new Map<string, Span>(
    plan.operations.map(({ id, heatPlan, calendar }) => {
      const { early_start, early_finish } = activities[id]!;
      const heat = plan.heatPlans.find((h) => h.id === heatPlan);
      if (!heat || calendar !== 'clock') return [id, { from: early_start, to: early_finish, heat: false }];
      const from = toQuarterHour(workTime(early_start));
      return [id, { from, to: from + heatPlanHours(heat) * HOUR_MS, heat: true }];
    }),
  );
}

const toQuarterHour = (ms: number): number => Math.ceil(ms / (15 * MINUTE_MS)) * 15 * MINUTE_MS;

/** Days of work whose hours hold a lag: a day's work is shorter than the day, and the night counts towards the lag. */
const lagDays = (lag_h: number): number => Math.floor(lag_h / 24) + Math.min(1, (lag_h % 24) / WORK_FOR_H);

function network(plan: Plan) {
  const operations = plan.operations.map((operation) => ({
    id: operation.id,
    duration: elapsedDays(operation),
    after: [
      ...operation.after.map(({ id, type, lag_h }) => ({ id, type, lag: lagDays(lag_h) })),
      ...plan.holds.filter((hold) => hold.before.includes(operation.id)).map((hold) => ({ id: hold.id })),
    ],
  }));
  const holds = plan.holds
    .filter((hold) => operationById(plan, hold.after))
    .map((hold) => ({ id: hold.id, duration: SIGNING_DAYS, after: [{ id: hold.after }] }));
  return [...operations, ...holds];
}

function offsetText(minutes: number): string {
  if (minutes === 0) return 'Z';
  const two = (n: number) => String(n).padStart(2, '0');
  const size = Math.abs(minutes);
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

/** The heat plan by its id. @throws {Error} where the plan has none of that name. */
export function heatPlanOf(plan: Plan, id: string): HeatPlan {
  const found = plan.heatPlans.find((h) => h.id === id);
  if (!found) throw new Error(`The plan has no heat plan ${id}`);
  return found;
}
