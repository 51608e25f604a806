import { inOrder, type Link } from '../../calculations/numeric/plan-network.ts';
import type { WorkingTime } from './working-time.ts';

/** A piece of work in a network with calendars. Instants and spans are in ms. */
export interface Activity {
  readonly id: string;
  /** In the working time of its calendar. */
  readonly work_ms: number;
  readonly time: WorkingTime;
  readonly started_ms: number | null;
  readonly finished_ms: number | null;
}

/** Where an activity lies: what was where it is known, what is forecast where it is not. */
export interface Scheduled {
  readonly start_ms: number;
  readonly finish_ms: number;
  /** The latest that do not move the end of the whole. */
  readonly lateStart_ms: number;
  readonly lateFinish_ms: number;
  /** How far the finish may move: without moving the end of the whole, without moving any follower. Elapsed. */
  readonly totalFloat_ms: number;
  readonly freeFloat_ms: number;
  /** On a longest chain: each of them holds the next at its place, and the last one the end. */
  readonly critical: boolean;
}

interface Early {
  readonly start: number;
  readonly finish: number;
  /** Where its work begins to count, in its own working time; an early start counts from when it might have begun. */
  readonly from: number;
  /** Links that hold it where it is. */
  readonly held: readonly Link[];
}

/**
 * Early and late dates with a calendar for each activity; links are by place in the list and their lags are elapsed ms.
 *
 * Without anything started and on one calendar round the clock it is the critical path method as `critical-path` has it.
 * An activity under way has its work from its start, or from when all that it follows allows it if that is later, and
 * is not finished before now. One that has not begun does not begin before now.
 *
 * @throws {RefusedInput} for links in a circle, with its members
 */
export function scheduleWithCalendars(
  activities: readonly Activity[],
  links: readonly Link[],
  { start_ms, now_ms }: { start_ms: number; now_ms: number | null },
): { finish_ms: number; dates: Scheduled[] } {
  const order = inOrder(
    activities.map((a) => a.id),
    links,
  );
  const entering = activities.map((_, k) => links.filter((l) => l.to === k));
  const early: Early[] = [];
  for (const k of order) early[k] = earliest(activities[k]!, entering[k]!, early, start_ms, now_ms ?? start_ms);
  const finish_ms = early.reduce((last, e) => Math.max(last, e.finish), start_ms);
  const latest = latestDates(activities, links, order, early, finish_ms);
  const critical = chain(activities, early, order, finish_ms);
  const dates = activities.map((activity, k): Scheduled => {
    const { start, finish } = early[k]!;
    const total = Math.max(0, latest.finish[k]! - finish);
    return {
      start_ms: start,
      finish_ms: finish,
      lateStart_ms: activity.started_ms ?? latest.start[k]!,
      lateFinish_ms: finish + total,
      totalFloat_ms: total,
      freeFloat_ms: Math.min(total, Math.max(0, latest.free[k]! - finish)),
      critical: critical.has(k),
    };
  });
  return { finish_ms, dates };
}

/** When a link lets its follower start (FS, SS) or finish (FF, SF). */
const allows = (link: Link, early: readonly Early[]): number => {
  const from = early[link.from]!;
  return (link.type === 'FS' || link.type === 'FF' ? from.finish : from.start) + link.lag;
};
const bindsStart = (link: Link): boolean => link.type === 'FS' || link.type === 'SS';
const latestOf = (links: readonly Link[], early: readonly Early[]): number =>
  links.reduce((last, link) => Math.max(last, allows(link, early)), Number.NEGATIVE_INFINITY);

function earliest(
  a: Activity,
  links: readonly Link[],
  early: readonly Early[],
  start_ms: number,
  now_ms: number,
): Early {
  const ofStart = links.filter(bindsStart);
  const ofFinish = links.filter((l) => !bindsStart(l));
  if (a.finished_ms !== null) {
    const start = Math.min(a.started_ms ?? a.finished_ms, a.finished_ms);
    return { start, finish: a.finished_ms, from: a.time.worked(start), held: [] };
  }
  const startAllowed = latestOf(ofStart, early);
  const finishAllowed = latestOf(ofFinish, early);
  const other = a.started_ms ?? Math.max(start_ms, now_ms);
  const begins = a.time.worked(Math.max(startAllowed, other));
  const until = a.started_ms === null ? finishAllowed : Math.max(finishAllowed, now_ms);
  const ends = Number.isFinite(until) ? a.time.worked(until) : Number.NEGATIVE_INFINITY;
  const plain = begins + a.work_ms;
  // Work that has begun is not pushed back as a whole: it ends later.
  const from = a.started_ms === null ? Math.max(begins, ends - a.work_ms) : begins;
  const finish = finishOf(a, Math.max(plain, ends), until, Math.max(startAllowed, other));
  const heldBy = (of: readonly Link[], at: number) => of.filter((l) => allows(l, early) === at);
  const finishHolds = finish > finishOf(a, plain, Number.NEGATIVE_INFINITY, Math.max(startAllowed, other));
  const held = finishHolds
    ? until === finishAllowed
      ? heldBy(ofFinish, finishAllowed)
      : []
    : startAllowed >= other
      ? heldBy(ofStart, startAllowed)
      : [];
  return { start: a.started_ms ?? startOf(a, from, Math.max(startAllowed, other)), finish, from, held };
}

/** A milestone stands at its instant, whatever the shift. */
const startOf = (a: Activity, from: number, allowed: number): number =>
  a.work_ms === 0 ? Math.max(allowed, a.time.finishAt(from)) : a.time.startAt(from);

/** The finish at a working time, not before an instant; in the next shift where that lies between two. */
function finishOf(a: Activity, ends: number, notBefore: number, allowed: number): number {
  if (a.work_ms === 0) return Math.max(allowed, notBefore);
  const finish = a.time.finishAt(ends);
  return finish >= notBefore ? finish : a.time.startAt(a.time.worked(notBefore));
}

function latestDates(
  activities: readonly Activity[],
  links: readonly Link[],
  order: readonly number[],
  early: readonly Early[],
  finish_ms: number,
): { start: number[]; finish: number[]; free: number[] } {
  const start: number[] = [];
  const finish: number[] = [];
  const free: number[] = [];
  for (const k of order.toReversed()) {
    const a = activities[k]!;
    const leaving = links.filter((l) => l.from === k && activities[l.to]!.finished_ms === null);
    const bound = (to: (link: Link) => number): number => {
      const limits = leaving.map((link) => latestWork(a, link, to(link) - link.lag));
      return Math.min(a.time.worked(finish_ms), ...limits);
    };
    const late = bound((l) => (bindsStart(l) ? start[l.to]! : finish[l.to]!));
    start[k] = late - a.work_ms <= early[k]!.from ? startNow(a, early[k]!) : a.time.startAt(late - a.work_ms);
    finish[k] = Math.max(early[k]!.finish, a.time.finishAt(late));
    const unmoved = bound((l) => (bindsStart(l) ? startNow(activities[l.to]!, early[l.to]!) : early[l.to]!.finish));
    free[k] = a.time.finishAt(unmoved);
  }
  return { start, finish, free };
}

const startNow = (a: Activity, early: Early): number =>
  a.started_ms === null ? early.start : a.time.startAt(early.from);

/** The greatest working time of a finish that keeps a link whose follower stands at an instant. */
const latestWork = (a: Activity, link: Link, at_ms: number): number =>
  link.type === 'FS' || link.type === 'FF' ? a.time.worked(at_ms) : a.time.lastStartBy(at_ms) + a.work_ms;

/** From the end back along the links that hold. */
function chain(
  activities: readonly Activity[],
  early: readonly Early[],
  order: readonly number[],
  finish_ms: number,
): ReadonlySet<number> {
  const found = new Set<number>();
  for (const k of order.toReversed()) {
    if (activities[k]!.finished_ms !== null) continue;
    if (early[k]!.finish === finish_ms) found.add(k);
    if (found.has(k))
      for (const { from } of early[k]!.held) if (activities[from]!.finished_ms === null) found.add(from);
  }
  return found;
}
