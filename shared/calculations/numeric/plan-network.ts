import { RefusedInput } from '../calculation.ts';

export type LinkType = 'FS' | 'SS' | 'FF' | 'SF';

/** A tie between two activities, by their place in the list; the lag is in the unit of the durations. */
export interface Link {
  readonly from: number;
  readonly to: number;
  readonly type: LinkType;
  readonly lag: number;
}

export interface Dates {
  readonly early_start: number;
  readonly early_finish: number;
  readonly late_start: number;
  readonly late_finish: number;
  readonly total_float: number;
  readonly free_float: number;
}

/** Least distance from the start of the first activity to the start of the second that a link asks for. */
const startToStart = (link: Link, durations: readonly number[]): number => {
  const from = link.type === 'FS' || link.type === 'FF' ? durations[link.from]! : 0;
  const to = link.type === 'FF' || link.type === 'SF' ? durations[link.to]! : 0;
  return from + link.lag - to;
};

/**
 * The activities in an order in which each comes after all that it follows.
 *
 * @throws {RefusedInput} naming the members of a circle.
 */
export function inOrder(ids: readonly string[], links: readonly Link[]): number[] {
  const waiting = ids.map(() => 0);
  const following = ids.map((): number[] => []);
  for (const link of links) {
    waiting[link.to]!++;
    following[link.from]!.push(link.to);
  }
  const ready = ids.flatMap((_, k) => (waiting[k] === 0 ? [k] : []));
  for (let next = 0; next < ready.length; next++) {
    for (const to of following[ready[next]!]!) {
      waiting[to]!--;
      if (waiting[to] === 0) ready.push(to);
    }
  }
  if (ready.length < ids.length) {
    const circle = findCircle(links, (k) => waiting[k]! > 0).map((k) => ids[k]!);
    throw new RefusedInput('activities', `follow each other in a circle: ${[...circle, circle[0]].join(' → ')}`);
  }
  return ready;
}

/** One circle among the activities that never came free, each member followed by the next. */
function findCircle(links: readonly Link[], stuck: (k: number) => boolean): number[] {
  const before = new Map(links.filter((l) => stuck(l.from) && stuck(l.to)).map((l) => [l.to, l.from]));
  const path: number[] = [];
  const seenAt = new Map<number, number>();
  // Each stuck activity waits for a stuck one, so going back must come round.
  for (let at = [...before.keys()][0]!; ; at = before.get(at)!) {
    const seen = seenAt.get(at);
    if (seen !== undefined) return path.slice(seen).reverse();
    seenAt.set(at, path.length);
    path.push(at);
  }
}

/** Early and late dates and floats of every activity, and how long the whole takes. */
export function schedule(
  ids: readonly string[],
  durations: readonly number[],
  links: readonly Link[],
): { duration: number; dates: Dates[] } {
  const order = inOrder(ids, links);
  const entering = ids.map((): Link[] => []);
  const leaving = ids.map((): Link[] => []);
  for (const link of links) {
    entering[link.to]!.push(link);
    leaving[link.from]!.push(link);
  }
  const early = ids.map(() => 0);
  for (const k of order) {
    for (const link of entering[k]!) {
      early[k] = Math.max(early[k]!, early[link.from]! + startToStart(link, durations));
    }
  }
  const duration = early.reduce((most, start, k) => Math.max(most, start + durations[k]!), 0);
  const late = durations.map((d) => duration - d);
  // Without a follower the end alone holds an activity back: its total float.
  const free = ids.map(() => Number.POSITIVE_INFINITY);
  for (const k of order.toReversed()) {
    for (const link of leaving[k]!) {
      const apart = startToStart(link, durations);
      late[k] = Math.min(late[k]!, late[link.to]! - apart);
      free[k] = Math.min(free[k]!, early[link.to]! - early[k]! - apart);
    }
  }
  // Additions of decimal durations round; a float smaller than this is none.
  const scale = links.reduce((most, l) => Math.max(most, Math.abs(l.lag)), duration);
  const none = 1e-11 * scale;
  const cleared = (float: number): number => (float <= none ? 0 : float);
  const dates = ids.map((_, k): Dates => {
    const total_float = cleared(late[k]! - early[k]!);
    const late_start = total_float === 0 ? early[k]! : late[k]!;
    return {
      early_start: early[k]!,
      early_finish: early[k]! + durations[k]!,
      late_start,
      late_finish: late_start + durations[k]!,
      total_float,
      free_float: Math.min(total_float, cleared(free[k]!)),
    };
  });
  return { duration, dates };
}
