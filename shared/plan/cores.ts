import { CORES, coresAt, EDGE_CORES } from './core-stations.ts';
import { stationsOf } from './lookup.ts';
import type { Characteristic, Plan, Station } from './schema.ts';

/** A core by its address, with its place at 20 °C in mm: +x to 0°, +y to 90°, seen from above. */
export interface CorePlaced {
  readonly address: string;
  readonly ring: number;
  readonly x_mm: number;
  readonly y_mm: number;
  /** False for one that is cut to the round at the edge. */
  readonly whole: boolean;
}

export interface Neighbour {
  readonly address: string;
  /** Where it lies, from the core's own centre. */
  readonly angle_deg: number;
}

interface Lattice {
  readonly cores: readonly CorePlaced[];
  readonly byAddress: ReadonlyMap<string, CorePlaced>;
  readonly byPlace: ReadonlyMap<string, CorePlaced>;
}

/** Plans are never changed in place. */
const lattices = new WeakMap<Plan, Lattice>();

function latticeOf(plan: Plan): Lattice {
  const found = lattices.get(plan);
  if (found) return found;
  const placed = (set: string, whole: boolean) =>
    (plan.stationSets[set] ?? []).map(
      ({ id, x_mm, y_mm }): CorePlaced => ({ address: id, ring: ringOf(id), x_mm: x_mm ?? 0, y_mm: y_mm ?? 0, whole }),
    );
  const cores = [...placed(CORES, true), ...placed(EDGE_CORES, false)];
  const made: Lattice = {
    cores,
    byAddress: new Map(cores.map((core) => [core.address, core])),
    byPlace: new Map(cores.map((core) => [placeKey(core.x_mm, core.y_mm, plan.design.pitch_mm), core])),
  };
  lattices.set(plan, made);
  return made;
}

/** Rows of the lattice lie √3/2 of the pitch apart, and their cores half a pitch: both come out whole. */
const placeKey = (x_mm: number, y_mm: number, pitch_mm: number): string =>
  `${Math.round((2 * x_mm) / pitch_mm)} ${Math.round((2 * y_mm) / (Math.sqrt(3) * pitch_mm))}`;

export const ringOf = (address: string): number => Number(address.split('.')[0]);

/** Every core of the mould: the whole ones ring by ring, counter-clockwise from 0°, then those cut at the edge. */
export const coresOf = (plan: Plan): readonly CorePlaced[] => latticeOf(plan).cores;

export const coreByAddress = (plan: Plan, address: string): CorePlaced | undefined =>
  latticeOf(plan).byAddress.get(address);

const SIXTHS = [0, 60, 120, 180, 240, 300];

/** The cores beside one, counter-clockwise from 0°. */
export function neighboursOf(plan: Plan, address: string): readonly Neighbour[] {
  const { byAddress, byPlace } = latticeOf(plan);
  const core = byAddress.get(address);
  if (!core) return [];
  const { pitch_mm } = plan.design;
  return SIXTHS.flatMap((angle_deg): Neighbour[] => {
    const angle = (angle_deg * Math.PI) / 180;
    const beside = byPlace.get(
      placeKey(core.x_mm + pitch_mm * Math.cos(angle), core.y_mm + pitch_mm * Math.sin(angle), pitch_mm),
    );
    return beside ? [{ address: beside.address, angle_deg }] : [];
  });
}

const byCore = new WeakMap<Characteristic, ReadonlyMap<string, readonly Station[]>>();

/** The stations of a characteristic of cores by address, in reading order; a gap stands at both its cores. */
export function stationsByCore(plan: Plan, characteristic: Characteristic): ReadonlyMap<string, readonly Station[]> {
  const found = byCore.get(characteristic);
  if (found) return found;
  const made = new Map<string, Station[]>();
  for (const station of stationsOf(plan, characteristic)) {
    for (const address of coresAt(station.id)) {
      const stations = made.get(address);
      if (stations) stations.push(station);
      else made.set(address, [station]);
    }
  }
  byCore.set(characteristic, made);
  return made;
}

/**
 * The addresses that a person means by a range: `3.1 to 3.18`, `3.1-3.18`, `ring 3`, several with commas.
 * @returns the addresses in order, or the part of the text that names none.
 */
export function readRange(text: string, known: readonly string[]): { addresses: string[] } | { unknown: string } {
  const parts = text
    .split(/[,;]/)
    .map((part) => part.trim())
    .filter(Boolean);
  if (parts.length === 0) return { unknown: '' };
  const meant = new Set<string>();
  for (const part of parts) {
    const found = onePart(part, known);
    if (found.length === 0) return { unknown: part };
    for (const address of found) meant.add(address);
  }
  return { addresses: known.filter((address) => meant.has(address)) };
}

function onePart(part: string, known: readonly string[]): readonly string[] {
  const ring = /^(?:ring\s*)?(\d+)$/i.exec(part)?.[1];
  if (ring !== undefined) return known.filter((address) => ringOf(address) === Number(ring));
  const [first = '', last = first, ...more] = part.split(/\s*(?:to|-|–)\s*/i);
  const [from, to] = [known.indexOf(first), known.indexOf(last)];
  return more.length > 0 || from < 0 || to < from ? [] : known.slice(from, to + 1);
}
