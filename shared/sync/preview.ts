import { runsAhead } from '../logbook/clock.ts';
import type { Kept, Log } from '../logbook/log.ts';
import type { Fault } from '../logbook/standing.ts';
import { type Finding, findings } from '../logbook/state/findings.ts';
import { holdState } from '../logbook/state/holds.ts';
import { namedBlobs } from '../logbook/state/photos.ts';
import { byTime } from '../logbook/state/readings.ts';
import type { Doubt } from '../logbook/state/signatures.ts';
import type { View } from '../logbook/state/view.ts';

export interface FromTablet {
  readonly device: string;
  readonly count: number;
  /** First and last place in its chain. */
  readonly from: number;
  readonly to: number;
}

/** What entries would bring, before any of them is kept. */
export interface Preview {
  readonly count: number;
  readonly tablets: readonly FromTablet[];
  readonly kinds: readonly { readonly kind: string; readonly count: number }[];
  readonly people: readonly { readonly person: string; readonly count: number }[];
  /** When the earliest and the latest were written, ISO 8601; null when there are none. */
  readonly period: readonly [string, string] | null;
  /** Entries that would count for nothing, by the first reason. */
  readonly uncounted: readonly { readonly fault: Fault; readonly count: number; readonly example: Kept }[];
  /** Chains that would stand forked and do not yet. */
  readonly forks: readonly { readonly device: string; readonly seq: number }[];
  /** Photos and logger files that the entries name anew: they lie beside the log, and do not come with entries. */
  readonly apart: { readonly photos: number; readonly files: number };
  /** Entries whose clock runs far ahead of this tablet's. */
  readonly ahead: number;
  /** Hold points that would fall into doubt, and why. */
  readonly doubts: readonly { readonly hold: string; readonly doubts: readonly Doubt[] }[];
  /** Hold points that would be released. */
  readonly released: readonly string[];
  /** Findings that would arise, and those that would be settled or decided. */
  readonly arise: readonly Finding[];
  readonly settle: readonly Finding[];
}

/**
 * Says what fresh entries would change.
 * @param before the casting as it is here; null where nothing of it is here yet.
 * @param after the casting with the fresh entries.
 */
export function previewOf(before: View | null, after: View, fresh: readonly Kept[], wall_ms: number): Preview {
  const times = [...fresh].sort(byTime).map((k) => k.entry.recordedAt);
  const uncounted = fresh.flatMap((kept) => {
    const fault = after.standing.faultOf(kept);
    return fault === null ? [] : [{ fault, kept }];
  });
  return {
    count: fresh.length,
    tablets: grouped(fresh, (k) => k.entry.device).map(([device, kept]) => ({
      device,
      count: kept.length,
      from: Math.min(...kept.map((k) => k.entry.seq)),
      to: Math.max(...kept.map((k) => k.entry.seq)),
    })),
    kinds: grouped(fresh, (k) => k.entry.kind).map(([kind, kept]) => ({ kind, count: kept.length })),
    people: grouped(fresh, (k) => k.entry.by).map(([person, kept]) => ({ person, count: kept.length })),
    period: times.length === 0 ? null : [times[0]!, times.at(-1)!],
    uncounted: grouped(uncounted, (u) => u.fault).map(([fault, list]) => ({
      fault,
      count: list.length,
      example: list[0]!.kept,
    })),
    forks: newForks(before?.log ?? null, after.log),
    apart: newlyNamed(before?.log ?? null, after.log),
    ahead: fresh.filter((k) => runsAhead(k.entry.clock, wall_ms)).length,
    ...(before ? changes(before, after) : { doubts: [], released: [], arise: [], settle: [] }),
  };
}

function changes(before: View, after: View): Pick<Preview, 'doubts' | 'released' | 'arise' | 'settle'> {
  const moved = after.plan.holds.flatMap((hold) => {
    const earlier = before.plan.holds.find((h) => h.id === hold.id);
    const was = earlier ? holdState(before, earlier).status : 'open';
    const now = holdState(after, hold);
    return was === now.status ? [] : [now];
  });
  const isOpen = (f: Finding): boolean => f.state === 'open' || f.state === 'in work';
  const was = new Map(findings(before).map((f) => [f.id, f]));
  const now = new Map(findings(after).map((f) => [f.id, f]));
  return {
    doubts: moved.filter((s) => s.status === 'in-doubt').map((s) => ({ hold: s.hold.id, doubts: s.doubts })),
    released: moved.filter((s) => s.status === 'released').map((s) => s.hold.id),
    arise: [...now.values()].filter((f) => isOpen(f) && !(was.has(f.id) && isOpen(was.get(f.id)!))),
    settle: [...was.values()].filter((f) => isOpen(f) && !(now.has(f.id) && isOpen(now.get(f.id)!))),
  };
}

function newlyNamed(before: Log | null, after: Log): Preview['apart'] {
  const [was, now] = [before && namedBlobs(before), namedBlobs(after)];
  const fresh = (of: 'photos' | 'files') => [...now[of].keys()].filter((hash) => !was?.[of].has(hash)).length;
  return { photos: fresh('photos'), files: fresh('files') };
}

const newForks = (before: Log | null, after: Log): Preview['forks'] =>
  after.devices().flatMap((device) => {
    const seq = after.forkOf(device);
    return seq === null || (before && before.forkOf(device) === seq) ? [] : [{ device, seq }];
  });

/** Groups in falling order of size. */
function grouped<T, N extends string>(list: readonly T[], nameOf: (item: T) => N): [N, T[]][] {
  const groups = new Map<N, T[]>();
  for (const item of list) {
    const group = groups.get(nameOf(item));
    if (group) group.push(item);
    else groups.set(nameOf(item), [item]);
  }
  return [...groups].sort((a, b) => b[1].length - a[1].length);
}
