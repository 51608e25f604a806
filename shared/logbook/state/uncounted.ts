import type { Hold } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import type { Fault } from '../standing.ts';
import { scopeOf } from './hold-scope.ts';
import { byTime } from './readings.ts';
import type { View } from './view.ts';

/** An entry that is kept and counts for nothing, and the first reason why. */
export interface Uncounted {
  readonly kept: Kept;
  readonly fault: Fault;
}

/** What lies in a hold point's scope and counts for nothing: evidence, signatures and refusals, oldest first. */
export function uncountedAt(view: View, hold: Hold): Uncounted[] {
  return view.memo.get(`uncounted/${hold.id}`, () =>
    uncountedAmong(view, [...view.log.inScope(`hold/${hold.id}`), ...scopeOf(view, hold)]),
  );
}

export interface ChainFault {
  readonly fault: Fault;
  readonly count: number;
  /** The first of them in its chain. */
  readonly first: Kept;
}

/** By tablet: which of its entries count for nothing, and why, the most frequent reason first. */
export function chainFaults(view: View): ReadonlyMap<string, readonly ChainFault[]> {
  const byDevice = new Map<string, Map<Fault, ChainFault>>();
  for (const { kept, fault } of uncountedAmong(view, [...view.log.all()])) {
    const { device, seq } = kept.entry;
    const faults = byDevice.get(device) ?? new Map<Fault, ChainFault>();
    byDevice.set(device, faults);
    const found = faults.get(fault);
    const first = found && found.first.entry.seq <= seq ? found.first : kept;
    faults.set(fault, { fault, count: (found?.count ?? 0) + 1, first });
  }
  return new Map([...byDevice].map(([device, faults]) => [device, [...faults.values()].sort(byCount)]));
}

const byCount = (a: ChainFault, b: ChainFault): number => b.count - a.count;

const uncountedAmong = (view: View, all: readonly Kept[]): Uncounted[] =>
  all
    .flatMap((kept) => {
      const fault = view.standing.faultOf(kept);
      return fault === null ? [] : [{ kept, fault }];
    })
    .sort((a, b) => byTime(a.kept, b.kept));
