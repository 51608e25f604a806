import type { Verdict } from '../../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../../shared/logbook/log.ts';
import { coreSample } from '../../../../shared/logbook/state/core-sample.ts';
import { GUARD_FACTOR } from '../../../../shared/logbook/state/derived-value.ts';
import {
  limitsOf,
  type StationState,
  stationState,
  stationStates,
  verdictOf,
  worst,
} from '../../../../shared/logbook/state/readings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { type LimitsAt, limitsAt, stationById, stationsOf } from '../../../../shared/plan/lookup.ts';
import type { Characteristic, Operation, Station } from '../../../../shared/plan/schema.ts';

/** One station of a survey with what stands there. */
export interface StationItem {
  readonly station: Station;
  readonly state: StationState | undefined;
  readonly value: number | null;
  /** Those that the reading was judged by; where none stands, those in force. */
  readonly limits: LimitsAt;
  /** Those that the next reading is judged by. */
  readonly inForce: LimitsAt;
  readonly guard: number;
  readonly verdict: Verdict | null;
}

/** One pass over the stations of a characteristic in an operation. */
export interface Survey {
  readonly operation: Operation;
  readonly characteristic: Characteristic;
  /** In reading order. */
  readonly items: readonly StationItem[];
  /** Those of them that are asked for: all, or the sample and what was read besides. */
  readonly walk: readonly StationItem[];
  readonly counts: Counts;
}

export interface Counts {
  readonly done: number;
  readonly total: number;
  readonly outside: number;
  readonly notProven: number;
  readonly worst: Verdict | null;
}

/** Whether it is measured once, at no station in particular. */
export const isSingle = ({ stations, each }: Characteristic): boolean => stations === null && each === undefined;

/** Null where the plan has no such operation or characteristic. */
export function surveyOf(
  view: View,
  operationId: string,
  characteristicId: string,
  named: readonly string[] = [],
): Survey | null {
  const operation = view.plan.operations.find((o) => o.id === operationId);
  const characteristic = view.plan.characteristics.find((c) => c.id === characteristicId);
  if (!operation || !characteristic) return null;
  const states = stationStates(view, operationId, characteristicId);
  const stations = allStations(view, characteristic, states, named);
  const items = stations.map((station) => itemOf(view, operationId, characteristic, station, states.get(station.id)));
  const walk = walkOf(view, operationId, characteristic, items);
  return { operation, characteristic, items, walk, counts: countsOf(walk) };
}

/** How far a survey is, without looking at each of its stations: for lists of many surveys. */
export function countsAt(view: View, operation: string, characteristic: Characteristic): Counts {
  const states = [...stationStates(view, operation, characteristic.id).values()];
  const standing = states.filter((s) => s.current.length > 0);
  const of = (verdict: Verdict) => states.filter((s) => s.verdict === verdict).length;
  const planned = stationsOf(view.plan, characteristic).length;
  const sample = coreSample(view, characteristic, operation);
  const [outside, notProven] = [of('outside'), of('not-proven')];
  const asked = sample && outside + notProven === 0 ? sample.stations : null;
  const drawn = asked && new Set(asked);
  const isKnown = (id: string) => (drawn ? drawn.has(id) : stationById(view.plan, characteristic, id) !== undefined);
  const besides = states.filter((s) => !isKnown(s.station) && (asked === null || s.current.length > 0)).length;
  return {
    done: standing.length,
    total: (asked?.length ?? planned) + besides,
    outside,
    notProven,
    worst: worst(states.map((s) => s.verdict)),
  };
}

function itemOf(
  view: View,
  operation: string,
  characteristic: Characteristic,
  station: Station,
  state: StationState | undefined,
): StationItem {
  const reading = state && ruling(view, state);
  const body = reading?.body;
  return {
    station,
    state,
    value: body?.value ?? null,
    // Of thousands of stations few are looked at: their limits are looked up when they are.
    get limits() {
      return reading ? limitsOf(view, reading) : this.inForce;
    },
    get inForce() {
      return limitsAt(view.plan, characteristic.id, operation, station.id);
    },
    guard: body?.guard ?? GUARD_FACTOR * (characteristic.uncertainty ?? 0),
    verdict: state?.verdict ?? null,
  };
}

/** One station alone, where the rest of its survey is not looked at. */
export function stationItem(
  view: View,
  operation: string,
  characteristic: Characteristic,
  station: Station,
): StationItem {
  const scope = `station/${operation}/${characteristic.id}/${station.id}`;
  const state = view.log.inScope(scope).length > 0 ? stationState(view, scope) : undefined;
  return itemOf(view, operation, characteristic, station, state);
}

/** Once one of a sample is not within, all are read. */
function walkOf(
  view: View,
  operation: string,
  characteristic: Characteristic,
  items: readonly StationItem[],
): readonly StationItem[] {
  const sample = coreSample(view, characteristic, operation);
  if (!sample || items.some((i) => i.verdict === 'outside' || i.verdict === 'not-proven')) return items;
  const drawn = new Set(sample.stations);
  return items.filter((i) => drawn.has(i.station.id) || i.value !== null);
}

/** The reading that is drawn: the latest of those with the verdict that rules. */
export const ruling = (view: View, { current, verdict }: StationState): Kept<'reading'> | undefined =>
  current.length === 1 ? current[0] : (current.findLast((r) => verdictOf(view, r) === verdict) ?? current.at(-1));

/** The planned stations, those named as they came, and those that readings name though the plan no longer has them. */
function allStations(
  view: View,
  characteristic: Characteristic,
  states: ReadonlyMap<string, StationState>,
  named: readonly string[],
): Station[] {
  const planned = stationsOf(view.plan, characteristic);
  const others = new Set(named);
  for (const id of states.keys()) if (!stationById(view.plan, characteristic, id)) others.add(id);
  return [
    ...planned,
    ...[...others].filter((id) => !stationById(view.plan, characteristic, id)).map((id) => ({ id, label: id })),
  ];
}

function countsOf(items: readonly StationItem[]): Counts {
  const of = (verdict: Verdict) => items.reduce((n, i) => (i.verdict === verdict ? n + 1 : n), 0);
  return {
    done: items.filter((i) => i.value !== null).length,
    total: items.length,
    outside: of('outside'),
    notProven: of('not-proven'),
    worst: worst(items.map((i) => i.verdict)),
  };
}

/** The next station in reading order at which nothing stands, after the last round to the first; null when all are done. */
export function nextOpen(items: readonly StationItem[], after: string | null): StationItem | null {
  const at = after === null ? -1 : items.findIndex((i) => i.station.id === after);
  for (let step = 1; step <= items.length; step++) {
    const item = items[(at + step) % items.length]!;
    if (item.value === null && item.station.id !== after) return item;
  }
  return null;
}

/** Angles across and heights down, the highest first; null where the stations are no wall. */
export interface Wall {
  readonly angles: readonly number[];
  readonly heights: readonly number[];
  at(height: number, angle: number): StationItem | undefined;
}

export function wallOf(items: readonly StationItem[]): Wall | null {
  const wall =
    items.length > 1 && items.every(({ station: s }) => s.angle_deg !== undefined && s.height_mm !== undefined);
  if (!wall) return null;
  const distinct = (list: readonly number[]) => [...new Set(list)].sort((a, b) => a - b);
  const places = new Map(items.map((i) => [`${i.station.height_mm} ${i.station.angle_deg}`, i]));
  return {
    angles: distinct(items.map((i) => i.station.angle_deg!)),
    heights: distinct(items.map((i) => i.station.height_mm!)).reverse(),
    at: (height, angle) => places.get(`${height} ${angle}`),
  };
}

/** The same characteristic's survey before this operation, e.g. as built before the one after preheat. */
export function earlierSurvey(view: View, { operation, characteristic }: Survey): Survey | null {
  const before = characteristic.operations[characteristic.operations.indexOf(operation.id) - 1];
  return before === undefined ? null : surveyOf(view, before, characteristic.id);
}
