import { CORES, coresAt, isOfCores } from '../../plan/core-stations.ts';
import { coresOf } from '../../plan/cores.ts';
import { stationsOf } from '../../plan/lookup.ts';
import type { Characteristic, Plan } from '../../plan/schema.ts';
import { canonicalJson, sha256Hex } from '../canonical.ts';
import type { View } from './view.ts';

/** The cores at which a characteristic is measured where the plan does not ask for all. */
export interface CoreSample {
  /** Drawn, in reading order. */
  readonly addresses: readonly string[];
  /** The stations that belong to them; for a gap those of all their neighbours. */
  readonly stations: readonly string[];
  /** How many cores it is drawn from. */
  readonly lot: number;
}

/**
 * The sample of a characteristic in an operation; null where all are read, or where it is not measured at cores.
 *
 * It follows from the casting's own fingerprint, so that every tablet draws the same one before the first reading and
 * nobody chooses. Cores are put in order by sixths of the mould and by rings in each, those of one ring by lot; every
 * so-many-th is taken from a start by lot: that spreads the sample over rings and sectors (systematic sampling, W. G.
 * Cochran, Sampling Techniques, 3rd ed., chapter 8).
 */
export function coreSample(view: View, characteristic: Characteristic, operation: string): CoreSample | null {
  const { count, all, allIn } = characteristic.sampling;
  if (all || count === undefined || allIn?.includes(operation) || !isOfCores(view.plan, characteristic)) return null;
  return view.memo.get(`sample/${operation}/${characteristic.id}`, () => {
    const seed = sha256Hex(canonicalJson([view.log.casting, operation, characteristic.id]));
    const lot = inSectors(view.plan, characteristic.stations === CORES || isPairs(view.plan, characteristic), seed);
    const addresses = everySoMany(lot, Math.min(count, lot.length), seed);
    const drawn = new Set(addresses);
    const stations = stationsOf(view.plan, characteristic)
      .filter(({ id }) => coresAt(id).some((address) => drawn.has(address)))
      .map(({ id }) => id);
    return {
      addresses: coresOf(view.plan).flatMap(({ address }) => (drawn.has(address) ? [address] : [])),
      stations,
      lot: lot.length,
    };
  });
}

const isPairs = (plan: Plan, { stations }: Characteristic): boolean =>
  stations !== null && plan.pairSets?.[stations] !== undefined;

const SECTORS = 6;

function inSectors(plan: Plan, whole: boolean, seed: string): string[] {
  const random = lots(seed);
  const keyed = coresOf(plan)
    .filter((core) => core.whole === whole)
    .map(({ address, ring, x_mm, y_mm }) => {
      const angle = (Math.atan2(y_mm, x_mm) / (2 * Math.PI) + 1) % 1;
      // Places are rounded to 0.01 mm: those on the line between two sectors belong to the second.
      const sector = Math.floor(angle * SECTORS + 1e-4) % SECTORS;
      // Out in one sector and in again in the next: no ring is favoured where the sectors meet.
      return { address, sector, ring: sector % 2 === 0 ? ring : -ring, lot: random() };
    });
  return keyed.sort((a, b) => a.sector - b.sector || a.ring - b.ring || a.lot - b.lot).map((core) => core.address);
}

function everySoMany(lot: readonly string[], count: number, seed: string): string[] {
  const step = lot.length / count;
  const start = lots(seed.slice(8))() * step;
  return Array.from({ length: count }, (_, i) => lot[Math.floor(start + i * step)]!);
}

/** Numbers in [0, 1) that follow from a seed: a 32-bit mixing of a counter, good enough to draw lots. */
function lots(seed: string): () => number {
  let state = Number.parseInt(seed.slice(0, 8), 16);
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}
