import type { Characteristic, Derivation, Hold, Limits, Operation, Plan, Station } from './schema.ts';

export interface LimitsAt {
  readonly nominal: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

/** The station of a characteristic that is measured once. */
export const SINGLE_STATION: Station = { id: 'one', label: 'single value' };

export const operationById = (plan: Plan, id: string): Operation | undefined =>
  plan.operations.find((operation) => operation.id === id);

export const characteristicById = (plan: Plan, id: string): Characteristic | undefined =>
  plan.characteristics.find((characteristic) => characteristic.id === id);

/** The limits that hold in an operation: those that name it, else those that name none. */
export function limitsFor(characteristic: Characteristic, operationId: string): Limits | undefined {
  return (
    characteristic.limits.find((l) => l.operations?.includes(operationId)) ??
    characteristic.limits.find((l) => l.operations === undefined)
  );
}

/** Shifted limits in full digits carry noise of binary fractions; nothing is measured to a millionth. */
const shifted = (limit: number | null, by: number): number | null =>
  limit === null ? null : Number((limit + by).toFixed(6));

/** The offset of a station; a place at a station takes the station's. */
function offsetAt(limits: Limits, stationId: string): number {
  const offsets = limits.offsetByStation;
  return offsets?.[stationId] ?? offsets?.[stationId.split('@')[0]!] ?? 0;
}

/** Nominal and limits of one station, all null where nothing limits it. */
export function limitsAt(plan: Plan, characteristicId: string, operationId: string, stationId: string): LimitsAt {
  const characteristic = characteristicById(plan, characteristicId);
  const limits = characteristic && limitsFor(characteristic, operationId);
  if (!limits) return { nominal: null, lower: null, upper: null };
  const by = offsetAt(limits, stationId);
  return {
    nominal: shifted(limits.nominal, by),
    lower: shifted(limits.lower, by),
    upper: shifted(limits.upper, by),
  };
}

/** A station set by name, written out in the plan or made of pairs; empty where the plan has none of that name. */
export function stationSet(plan: Plan, name: string): readonly Station[] {
  const pairs = plan.pairSets?.[name];
  return pairs ? pairsOf(plan.stationSets[pairs.of] ?? [], pairs.apart_mm) : (plan.stationSets[name] ?? []);
}

/** Stations are placed to 0.01 mm, and the next distance on a lattice is √3 times as far. */
const NEAR = 1.2;

function pairsOf(stations: readonly Station[], apart_mm: number): Station[] {
  const near_mm = NEAR * apart_mm;
  const apart = (a: Station, b: Station) => Math.hypot((a.x_mm ?? 0) - (b.x_mm ?? 0), (a.y_mm ?? 0) - (b.y_mm ?? 0));
  // By square cells: each station is held against those around it, not against thousands.
  const cellOf = (s: Station): [number, number] => [
    Math.floor((s.x_mm ?? 0) / near_mm),
    Math.floor((s.y_mm ?? 0) / near_mm),
  ];
  const cells = new Map<string, number[]>();
  stations.forEach((station, i) => {
    const key = cellOf(station).join();
    cells.set(key, [...(cells.get(key) ?? []), i]);
  });
  const around = [-1, 0, 1];
  return stations.flatMap((a, i) => {
    const [x, y] = cellOf(a);
    return around
      .flatMap((dx) => around.flatMap((dy) => cells.get([x + dx, y + dy].join()) ?? []))
      .filter((j) => j > i && apart(a, stations[j]!) < near_mm)
      .sort((j, k) => j - k)
      .map((j) => stations[j]!)
      .map((b) => ({ id: `${a.id}-${b.id}`, label: `${a.label} to ${b.label}` }));
  });
}

/** Plans are never changed in place, so that what was written out once serves again. */
const writtenOut = new WeakMap<Characteristic, readonly Station[]>();
const named = new WeakMap<Characteristic, ReadonlyMap<string, Station>>();

/**
 * The stations in the order in which they are read, with the places at each; `one` for a single value, and none where
 * stations are named as they come (`each`).
 */
export function stationsOf(plan: Plan, characteristic: Characteristic): readonly Station[] {
  const found = writtenOut.get(characteristic);
  if (found) return found;
  const made = writeOut(plan, characteristic);
  writtenOut.set(characteristic, made);
  return made;
}

/** A station by its id; undefined where the plan does not name it. */
export function stationById(plan: Plan, characteristic: Characteristic, id: string): Station | undefined {
  const found = named.get(characteristic) ?? new Map(stationsOf(plan, characteristic).map((s) => [s.id, s]));
  named.set(characteristic, found);
  return found.get(id);
}

function writeOut(plan: Plan, characteristic: Characteristic): readonly Station[] {
  if (characteristic.each !== undefined) return [];
  if (characteristic.stations === null) return [SINGLE_STATION];
  const stations = stationSet(plan, characteristic.stations);
  const { places } = characteristic;
  if (!places) return stations;
  return stations.flatMap((station) =>
    places.map((place) => ({ ...station, id: `${station.id}@${place.id}`, label: `${station.label}, ${place.label}` })),
  );
}

/** The derivation of a station's nominal: where it depends on the distance from the axis, with that put in. */
export function derivationAt(
  plan: Plan,
  characteristic: Characteristic,
  operationId: string,
  stationId: string,
): Derivation | undefined {
  const derivation = limitsFor(characteristic, operationId)?.derivation;
  if (!derivation?.stationInput || characteristic.stations === null) return derivation;
  const station = plan.stationSets[characteristic.stations]?.find((s) => s.id === stationId.split('@')[0]);
  if (station?.x_mm === undefined || station.y_mm === undefined) return derivation;
  const distance = Math.hypot(station.x_mm, station.y_mm);
  return { ...derivation, input: { ...derivation.input, [derivation.stationInput]: distance } };
}

/** All operations before one, however far, in the plan's order. */
export function predecessorsOf(plan: Plan, operationId: string): readonly string[] {
  const found = new Set<string>();
  const waiting = [operationId];
  for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
    for (const { id: before } of operationById(plan, id)?.after ?? []) {
      if (!found.has(before)) {
        found.add(before);
        waiting.push(before);
      }
    }
  }
  return plan.operations.map((o) => o.id).filter((id) => found.has(id));
}

/** The hold points that stand before an operation: straight before it, or before anything that it follows. */
export function holdsBefore(plan: Plan, operationId: string): readonly Hold[] {
  const upToHere = new Set([...predecessorsOf(plan, operationId), operationId]);
  return plan.holds.filter(
    (hold) => (hold.after !== operationId && upToHere.has(hold.after)) || hold.before.some((id) => upToHere.has(id)),
  );
}

/** Working hours that pass in a day, at an even pace over the week. */
const hoursADay: Readonly<Record<Operation['calendar'], number>> = { day: 40 / 7, two: 96 / 7, clock: 24 };

/** Elapsed days of an operation, at an even pace and without waiting. */
export const elapsedDays = (operation: Operation): number => operation.hours / hoursADay[operation.calendar];

/** Where the readings are taken that a value of an operation comes from: there, or in the last operation before it. */
export function readAt(plan: Plan, source: Characteristic, operation: string): string | null {
  const place = (id: string) => plan.operations.findIndex((o) => o.id === id);
  return source.operations.filter((id) => place(id) <= place(operation)).at(-1) ?? null;
}
