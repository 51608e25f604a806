import { stationsOf } from '../../plan/lookup.ts';
import type { Characteristic, Plan } from '../../plan/schema.ts';

/** What a characteristic asks to be measured before it is enough. */
export interface Asked {
  /** The stations that the plan names; null where they are named as they come. */
  readonly stations: readonly string[] | null;
  /** How many stations there must be at least. */
  readonly least: number;
}

/** What `each` names where there may well be none: then nothing is missing. */
const DAMAGE: ReadonlySet<string> = new Set(['crack', 'chip']);

/**
 * How many stations are asked for in an operation. Where they are named as they come one is enough, and none where it
 * is damage that there may not be. A sample is enough while everything in it is within; then all stations are asked for.
 * @param drawn the stations of the sample, where it is known which they are; else any so many will do
 */
export function stationsAsked(
  plan: Plan,
  characteristic: Characteristic,
  operation: string,
  allWithin: boolean,
  drawn: readonly string[] | null = null,
): Asked {
  const { each, sampling } = characteristic;
  if (each !== undefined) return { stations: null, least: DAMAGE.has(each) ? 0 : 1 };
  const stations = stationsOf(plan, characteristic).map((s) => s.id);
  const { all, allIn, count } = sampling;
  const sampled = !all && !allIn?.includes(operation) && allWithin && count !== undefined;
  if (sampled && drawn) return { stations: drawn, least: drawn.length };
  return { stations, least: sampled ? Math.min(count, stations.length) : stations.length };
}

/** How many of the stations that are asked for have a value. */
export const measuredOf = ({ stations }: Asked, present: ReadonlySet<string>): number =>
  stations === null ? present.size : stations.filter((station) => present.has(station)).length;
