import { characteristicById, predecessorsOf, stationsOf } from '../../plan/lookup.ts';
import type { Characteristic, Plan } from '../../plan/schema.ts';
import { changeBetween } from './change-between.ts';
import { GUARD_FACTOR } from './derived-value.ts';
import type { View } from './view.ts';

/** How many heats in a row must have changed less than the limit. */
export const IN_A_ROW = 2;

/** What one heat did to what was surveyed before and after it. */
export interface HeatChange {
  readonly before: string;
  readonly after: string;
  /** The operations of the heats in between, in the plan's order. */
  readonly heats: readonly string[];
  /** Stations read before and after it; none where one of its surveys was not read. */
  readonly stations: number;
  /** Those of them whose change is proven less than the limit. */
  readonly less: number;
  /** Every station that the plan has was read before and after it. */
  readonly complete: boolean;
  /** The change furthest from none. */
  readonly most: number;
}

export interface Stability {
  /** The characteristic that limits the change, and how much it allows either way. */
  readonly limitedBy: Characteristic;
  readonly limit: { readonly lower: number | null; readonly upper: number | null };
  /** In order, up to the last that was surveyed; what was surveyed with no heat in between is no heat. */
  readonly heats: readonly HeatChange[];
  /** Null while too few heats are known to say. */
  readonly stable: boolean | null;
}

/**
 * Whether what is surveyed before and after its heats has come to rest: in two heats in a row every station is proven to
 * have changed less than the limit of its change. Null where the plan limits no change of it.
 */
export function stabilityOf(view: View, characteristic: Characteristic): Stability | null {
  const limitedBy = changeLimitedBy(view.plan, characteristic);
  const limits = limitedBy?.limits[0];
  if (!limitedBy || !limits) return null;
  const { lower, upper } = limits;
  const guard = GUARD_FACTOR * (limitedBy.uncertainty ?? 0);
  const { operations } = characteristic;
  const all = operations.slice(1).flatMap((after, i): HeatChange[] => {
    const before = operations[i]!;
    const between = heatsBetween(view.plan, before, after);
    const changes = changeBetween(view, characteristic, before, after);
    if (between.length === 0) return [];
    const less = changes.filter(
      ({ change }) => (lower === null || change - guard >= lower) && (upper === null || change + guard <= upper),
    ).length;
    const most = changes.reduce((far, { change }) => (Math.abs(change) > Math.abs(far) ? change : far), 0);
    const complete = changes.length === stationsOf(view.plan, characteristic).length;
    return [{ before, after, heats: between, stations: changes.length, less, complete, most }];
  });
  // A heat in between that was not surveyed breaks the row; those at the end are still to come.
  const heats = all.slice(0, all.findLastIndex((h) => h.stations > 0) + 1);
  const last = heats.slice(-IN_A_ROW);
  const stable = last.length < IN_A_ROW ? null : last.every((h) => h.complete && h.less === h.stations);
  return { limitedBy, limit: { lower, upper }, heats, stable };
}

/** The characteristic that is the change of this one, station by station. */
const changeLimitedBy = (plan: Plan, { id, stations }: Characteristic): Characteristic | undefined =>
  stations === null
    ? undefined
    : plan.characteristics.find(
        (c) =>
          c.kind === 'derived' &&
          c.stations === stations &&
          c.unit === characteristicById(plan, id)?.unit &&
          isFrom(c, id),
      );

const isFrom = ({ derivedFrom }: Characteristic, id: string): boolean =>
  derivedFrom?.characteristics.length === 1 && derivedFrom.characteristics[0] === id;

/** The operations with a heat that come after one and up to the other. */
function heatsBetween(plan: Plan, before: string, after: string): string[] {
  const earlier = new Set([...predecessorsOf(plan, before), before]);
  return predecessorsOf(plan, after).filter(
    (id) => !earlier.has(id) && plan.operations.some((o) => o.id === id && o.heatPlan !== null),
  );
}

/** In one sentence: how far it is proven that the heats change it no more. */
export function stabilityWords({ heats, stable }: Stability): string {
  if (heats.length === 0) return 'no heat between two surveys yet';
  const held = heats.filter((h) => h.complete && h.less === h.stations).length;
  if (stable === true) return `stable: less than the limit in ${IN_A_ROW} heats in a row`;
  if (stable === false) return `not stable: not every station less than the limit in the last ${IN_A_ROW} heats`;
  return held === heats.length
    ? `less than the limit in 1 heat; stable once ${IN_A_ROW} in a row are`
    : `not less than the limit at every station in 1 heat; stable once ${IN_A_ROW} in a row are`;
}
