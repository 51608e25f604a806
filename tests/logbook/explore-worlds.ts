import { expect } from 'vitest';
import { signedOf } from '../../shared/logbook/state/signatures.ts';
import { type Asked, ReleaseChecker } from './release-checker.ts';
import { type Device, hold, oneStationPlan, SmallWorlds, storyOf, type Wanted } from './small-worlds.ts';
import type { Line } from './world.ts';

const asked: Asked = {
  roles: hold.roles,
  stations: ['a'],
  lower: oneStationPlan.characteristics[0]!.limits[0]!.lower!,
  upper: oneStationPlan.characteristics[0]!.limits[0]!.upper!,
  evidence: ['reading', 'sheet', 'operation'],
};

/** What a device would show. */
export type Shows = (worlds: SmallWorlds, lines: readonly Line[]) => boolean;
export const shows: Shows = (worlds, lines) => signedOf(worlds.viewOf(lines), hold).outcome === 'released';

export interface Tally {
  readonly worlds: number;
  readonly orders: number;
  readonly devices: number;
  /** Devices that show *released*, and those that may not, by the reason. */
  readonly told: ReadonlyMap<string, number>;
  /** Where what is shown and what the entries carry differ. */
  readonly wrong: readonly string[];
}

/**
 * Every world of so many acts and fewer. Each set of entries that a device comes to have is held against the checker
 * once, or twice where worlds that mirror each other are kept apart.
 */
export function explore(wanted: Wanted, acts: number, shown: Shows = shows): Tally {
  const worlds = new SmallWorlds(wanted);
  const seen = new Set<string>();
  const told = new Map<string, number>();
  const wrong: string[] = [];
  const check = (device: Device) => {
    const story = storyOf(device);
    const what = wanted.apart ? device.key : story;
    if (seen.has(what)) return;
    seen.add(what);
    const lines = worlds.linesOf(device);
    const whyNot = new ReleaseChecker(lines, asked).whyNot();
    told.set(whyNot ?? 'released', (told.get(whyNot ?? 'released') ?? 0) + 1);
    if (shown(worlds, lines) !== (whyNot === null)) wrong.push(`${story}: ${whyNot ?? 'may be released'}`);
  };
  let level = [worlds.start];
  let orders = 0;
  let count = 1;
  for (let act = 1; act < acts; act++) {
    level = worlds.next(level);
    count += level.length;
    for (const world of level) {
      orders += world.orders;
      check(world.a);
      check(world.b);
    }
  }
  const last = worlds.last(level, check);
  orders += last.orders;
  count += last.worlds;
  return { worlds: count, orders, devices: seen.size, told, wrong };
}

const numbers = ({ worlds, orders, devices, told }: Tally): string =>
  `${orders} orders of acts, ${worlds} worlds, ${devices} devices that differ; ${[...told].map(([what, n]) => `${n} ${what}`).join(', ')}`;

/** Nothing is shown otherwise than the entries carry, and the worlds reached what they are about. */
export function expectAgreement(name: string, tally: Tally, reasons = USUAL): void {
  console.log(`${name}: ${numbers(tally)}`);
  expect(tally.wrong.slice(0, 5)).toEqual([]);
  expect([...tally.told.keys()]).toEqual(expect.arrayContaining([...reasons]));
}

const USUAL: readonly string[] = [
  'released',
  'not signed by both roles',
  'evidence was struck',
  'evidence that the signer had not seen',
  'refused, and nobody in that role has signed over it',
];
