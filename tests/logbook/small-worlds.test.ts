import { describe, expect, it } from 'vitest';
import { type Signed, signedOf } from '../../shared/logbook/state/signatures.ts';
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
type Shows = (worlds: SmallWorlds, lines: readonly Line[]) => boolean;
const shows: Shows = (worlds, lines) => signedOf(worlds.viewOf(lines), hold).outcome === 'released';

interface Tally {
  readonly worlds: number;
  readonly orders: number;
  readonly devices: number;
  /** Devices that show *released*, and those that may not, by the reason. */
  readonly told: ReadonlyMap<string, number>;
  /** Where what is shown and what the entries carry differ. */
  readonly wrong: readonly string[];
}

/** Every world of so many acts and fewer; each device in it is held against the checker once. */
function explore(wanted: Wanted, acts: number, shown: Shows = shows): Tally {
  const worlds = new SmallWorlds(wanted);
  const seen = new Set<string>();
  const told = new Map<string, number>();
  const wrong: string[] = [];
  const check = (device: Device) => {
    const story = storyOf(device);
    if (seen.has(story)) return;
    seen.add(story);
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
  // The worlds of the last act are not kept: nothing follows from them.
  for (const world of level)
    for (const [a, b] of worlds.stepsOf(world)) {
      orders += world.orders;
      count += 1;
      check(a);
      check(b);
    }
  return { worlds: count, orders, devices: seen.size, told, wrong };
}

const numbers = ({ worlds, orders, devices, told }: Tally): string =>
  `${orders} orders of acts, ${worlds} worlds, ${devices} devices that differ; ${[...told].map(([what, n]) => `${n} ${what}`).join(', ')}`;

describe('two devices and one hold point', () => {
  it.each([
    ['measured before they parted, up to six acts', true, 6],
    ['not measured yet, up to five acts', false, 5],
  ])(
    'show released where the entries carry it and nowhere else: %s',
    (name, measured, acts) => {
      const tally = explore({ measured, hasty: false, targets: 'newest' }, acts);
      console.log(`${name}: ${numbers(tally)}`);
      expect(tally.wrong.slice(0, 5)).toEqual([]);
      // The worlds must reach what they are about.
      expect([...tally.told.keys()]).toEqual(
        expect.arrayContaining([
          'released',
          'not signed by both roles',
          'evidence was struck',
          'evidence that the signer had not seen',
          'refused, and nobody in that role has signed over it',
        ]),
      );
    },
    900_000,
  );

  it('show nothing as released that was signed where the app would have refused, whichever reading is struck or replaced', () => {
    const tally = explore({ measured: true, hasty: true, targets: 'all' }, 4);
    console.log(`signed hastily too: ${numbers(tally)}`);
    expect(tally.wrong.slice(0, 5)).toEqual([]);
    expect([...tally.told.keys()]).toEqual(
      expect.arrayContaining(['a station was outside', 'a station was not measured', 'another root']),
    );
  }, 300_000);
});

const without =
  (kind: string): Shows =>
  (worlds, lines) =>
    shows(
      worlds,
      lines.filter((line) => line.entry.kind !== kind),
    );

const forgiving =
  (reason: string): Shows =>
  (worlds, lines) => {
    const { outcome, doubts }: Signed = signedOf(worlds.viewOf(lines), hold);
    return outcome === 'released' || (outcome === 'in-doubt' && doubts.every((d) => d.reason === reason));
  };

/** Faults that somebody could write into the rules of sign-off. */
const faults: Readonly<Record<string, Shows>> = {
  'strikes are passed over': forgiving('struck'),
  'what the signer had not seen is passed over': forgiving('came-later'),
  'a refusal is passed over': without('refusal'),
  'the root is not held against what is listed': forgiving('root-differs'),
  'what was outside or missing when it was signed is passed over': forgiving('not-carried'),
  'a re-measure in knowledge of the release puts it in doubt': (worlds, lines) => {
    const { outcome, set } = signedOf(worlds.viewOf(lines), hold);
    const listed = new Set(set?.flatMap((s) => s.release.body.evidence));
    return outcome === 'released' && lines.every((l) => l.entry.kind !== 'reading' || listed.has(l.hash));
  },
  'one signature is enough': (worlds, lines) => signedOf(worlds.viewOf(lines), hold).all.length > 0,
};

describe('the checker', () => {
  it.each(Object.entries(faults))('finds the planted fault: %s', (_, fault) => {
    expect(explore({ measured: true, hasty: true, targets: 'newest' }, 3, fault).wrong.length).toBeGreaterThan(0);
  });
});
