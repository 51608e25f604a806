import type { Body } from '../../shared/logbook/kinds.ts';
import { type Kept, Log } from '../../shared/logbook/log.ts';
import { merkleRoot } from '../../shared/logbook/merkle.ts';
import { judge } from '../../shared/logbook/state/derived.ts';
import { type HoldState, holdState } from '../../shared/logbook/state/holds.ts';
import { stationStates } from '../../shared/logbook/state/readings.ts';
import { signingObstacles } from '../../shared/logbook/state/signing-obstacles.ts';
import { planHashOf, type View, viewOf } from '../../shared/logbook/state/view.ts';
import { type Plan, planSchema } from '../../shared/plan/schema.ts';
import { smallPlan } from './small-plan.ts';
import {
  type ChainEnd,
  type Line,
  lead,
  lineOf,
  quality,
  reading,
  sheet,
  type TestPerson,
  type TestTablet,
  tablets,
  technician,
} from './world.ts';

/** One station, one hold point, two roles. */
export const oneStationPlan: Plan = planSchema.parse({
  ...smallPlan,
  stationSets: { single: [{ id: 'a', label: 'station a' }] },
  characteristics: smallPlan.characteristics.map((c) => ({ ...c, stations: 'single' })),
});
export const hold = oneStationPlan.holds[0]!;
const SIGNERS = [
  [lead, 'crew-lead'],
  [quality, 'quality'],
] as const;
type Signer = (typeof SIGNERS)[number];

/** A device: its own chain since the start, and how far it has the other's. Never changes. */
export interface Device {
  readonly end: ChainEnd;
  readonly own: readonly Line[];
  readonly merged: readonly Line[];
  readonly key: string;
  /** What was written here in words that do not name the device, with how much was merged before each act. */
  readonly story: string;
  /** How much of the other's chain was merged since this one last wrote; null for nothing. */
  readonly pending: number | null;
  /** The same of what was merged: two devices may mirror each other. */
  readonly mergedStory: string;
}

export interface World {
  readonly a: Device;
  readonly b: Device;
  /** In how many orders of acts it is come to. */
  readonly orders: number;
}

/** What a device shows. */
export interface Shown {
  readonly view: View;
  readonly state: HoldState;
}

const MINUTE = 30;
// Made once: they are the same in every world.
const PLAN = planHashOf(oneStationPlan);
const WITHIN = reading('a', 100);
const OUTSIDE = reading('a', 102);
const AGAIN = reading('a', 100.1);

/** All worlds that two devices come to by a number of acts; what they share is built once. */
export class SmallWorlds {
  readonly start: World;
  private readonly base: readonly Line[];
  /** Lines as a log keeps them; those of devices that nothing follows from go with them. */
  private readonly kept = new WeakMap<Line, Kept>();
  private readonly shown = new Map<string, Shown>();
  private readonly steps = new Map<string, readonly Device[]>();
  private readonly lastSteps = new Map<string, number>();

  constructor(private readonly wanted: Wanted) {
    const [office, one, other] = tablets(['Office', 'A', 'B'], oneStationPlan) as [TestTablet, TestTablet, TestTablet];
    for (const operation of ['1', '2']) {
      office.write('sheet', sheet(operation, { c1: 'yes', c2: 'yes' }), technician, 10);
      office.write('operation', { operation, mark: 'finished' }, lead, 20);
    }
    if (wanted.measured) office.write('reading', WITHIN, technician, 15);
    this.base = office.lines;
    const device = (tablet: TestTablet): Device => {
      tablet.merge(office);
      const { name, casting, device: id, head, clock, seen } = tablet;
      const end = { name, casting, device: id, head, clock, seen };
      return { end, own: [], merged: [], key: name, story: '', pending: null, mergedStory: '' };
    };
    this.start = { a: device(one), b: device(other), orders: 1 };
  }

  /** Every line that a device has. */
  linesOf = (device: Device): Line[] => [...this.base, ...device.own, ...device.merged];

  /** A view of some lines, each of them read once for all views. */
  viewOf(lines: readonly Line[]): View {
    const log = new Log(this.start.a.end.casting);
    for (const line of lines) log.include(this.keptOf(line));
    return viewOf(log, judge)!;
  }

  /**
   * The worlds one act further, with the number of orders that lead to each. Of two that mirror each other, the devices
   * changed about, one stands for both, unless they are to be kept apart.
   */
  next(worlds: Iterable<World>): World[] {
    const further = new Map<string, World>();
    for (const world of worlds)
      for (const [a, b] of this.stepsOf(world)) {
        const states = [stateOf(a), stateOf(b)];
        const key = (this.wanted.apart ? states : states.sort()).join(' / ');
        const same = further.get(key) ?? { a, b, orders: 0 };
        further.set(key, { ...same, orders: same.orders + world.orders });
      }
    return [...further.values()];
  }

  /**
   * The devices one act further, each handed over once, from which nothing is to follow.
   * @returns how many worlds, and how many orders lead to them
   */
  last(worlds: Iterable<World>, look: (device: Device) => void): { worlds: number; orders: number } {
    let count = 0;
    let orders = 0;
    for (const world of worlds) {
      const merges = mergesOf(world);
      for (const device of merges.flat()) look(device);
      const steps = merges.length + this.lastActs(world.a, look) + this.lastActs(world.b, look);
      count += steps;
      orders += steps * world.orders;
    }
    return { worlds: count, orders };
  }

  private lastActs(device: Device, look: (device: Device) => void): number {
    const found = this.lastSteps.get(device.key);
    if (found !== undefined) return found;
    const acts = this.workOutActs(device);
    acts.forEach(look);
    this.shown.clear();
    this.lastSteps.set(device.key, acts.length);
    return acts.length;
  }

  /** The two devices after each act that one of them may do. */
  private stepsOf(world: World): (readonly [Device, Device])[] {
    const { a, b } = world;
    return [
      ...this.actsOf(a).map((next) => [next, b] as const),
      ...this.actsOf(b).map((next) => [a, next] as const),
      ...mergesOf(world),
    ];
  }

  private answer(device: Device): Shown {
    const found = this.shown.get(device.key);
    if (found) return found;
    const view = this.viewOf(this.linesOf(device));
    const made = { view, state: holdState(view, hold) };
    this.shown.set(device.key, made);
    return made;
  }

  /** What a device may do by itself; it does not matter what the other has done meanwhile. */
  private actsOf(device: Device): readonly Device[] {
    const found = this.steps.get(device.key);
    if (found) return found;
    const made = this.workOutActs(device);
    this.steps.set(device.key, made);
    this.shown.clear();
    return made;
  }

  private workOutActs(device: Device): Device[] {
    const { view, state } = this.answer(device);
    const station = stationStates(view, '2', 'width').get('a');
    const struck = new Set(view.log.scopeNames('strike/').map((name) => name.slice('strike/'.length)));
    const strikeable = this.targets(device, station?.history.filter((r) => !struck.has(r.hash)) ?? []);
    const replaceable = this.targets(device, station?.current ?? []);
    const released = this.released(device);
    return [
      written(device, 'reading', WITHIN, technician, 'within'),
      written(device, 'reading', OUTSIDE, technician, 'outside'),
      ...strikeable.map(({ hash }) =>
        written(device, 'strike', { target: hash, reason: 'mistyped' }, lead, `strike ${placeOf(device, hash)}`),
      ),
      ...replaceable.map(({ hash }) =>
        written(device, 'reading', { ...AGAIN, replaces: hash }, technician, `again ${placeOf(device, hash)}`),
      ),
      ...(released === device ? [] : [released]),
      ...(state.status === 'released' ? [] : [written(device, 'refusal', refusal(), quality, 'refuse')]),
      ...(this.wanted.hasty ? [this.signedHastily(device, true), this.signedHastily(device, false)] : []),
    ];
  }

  /** The readings that an act may name: all, or the newest; of the device's own the last, else of the other's. */
  private targets(device: Device, readings: readonly Kept<'reading'>[]): readonly Kept<'reading'>[] {
    if (this.wanted.targets === 'all' || readings.length === 0) return readings;
    const lines = [...this.base, ...device.merged, ...device.own].map((l) => l.hash);
    return [...readings].sort((x, y) => lines.indexOf(y.hash) - lines.indexOf(x.hash)).slice(0, 1);
  }

  /** Everyone signs whom the app would let sign, one after the other, each once. */
  private released(device: Device, signers: readonly Signer[] = SIGNERS): Device {
    for (const signer of signers) {
      const [person, role] = signer;
      const { view, state } = this.answer(device);
      if (!state.rolesOpen.includes(role) || state.status === 'released') continue;
      if (signingObstacles(view, state, person.id, role).length > 0) continue;
      return this.released(
        signed(device, state, person, role),
        signers.filter((other) => other !== signer),
      );
    }
    return device;
  }

  /** Both sign over what is there, whatever is missing; where the root is not fair, over the root of something else. */
  private signedHastily(device: Device, fair: boolean): Device {
    const { evidence, evidenceHash } = this.answer(device).state;
    const over = { evidence, evidenceHash: fair ? evidenceHash : merkleRoot(evidence.slice(1)) };
    const words = fair ? 'hastily' : 'another root';
    return SIGNERS.reduce((after, [person, role]) => signed(after, over, person, role, words), device);
  }

  private keptOf(line: Line): Kept {
    const found = this.kept.get(line);
    if (found) return found;
    const log = new Log(line.entry.casting);
    log.add(line.entry, line.hash, line.signature);
    const kept = log.get(line.hash)!;
    this.kept.set(line, kept);
    return kept;
  }
}

export interface Wanted {
  /** Whether the station was measured, within, before the two parted. */
  readonly measured: boolean;
  /** Whether devices also sign what their app would refuse to sign. */
  readonly hasty: boolean;
  /** Which readings an act may strike or replace: each that stands, or the newest. */
  readonly targets: 'all' | 'newest';
  /** Whether worlds that mirror each other, the devices changed about, are kept apart. */
  readonly apart?: boolean;
}

/** All that a device has and what its next entry will say that it has seen, in words that do not name it. */
const stateOf = ({ story, pending, mergedStory }: Device): string =>
  `${story}${pending === null ? '' : `+${pending} `}| ${mergedStory}`;

/**
 * The entries that a device has, in words that name no device. What it shows rests on these alone, so that two with the
 * same are one: also where the one wrote what the other merged, and where something was merged in one step or in two.
 */
export const storyOf = ({ story, mergedStory }: Device): string => [story, mergedStory].sort().join('| ');

/** The two devices after each merge that brings something. */
const mergesOf = ({ a, b }: World): (readonly [Device, Device])[] => [
  ...(hasAll(a, b) ? [] : [[mergedFrom(a, b), b] as const]),
  ...(hasAll(b, a) ? [] : [[a, mergedFrom(b, a)] as const]),
];

const hasAll = (device: Device, other: Device): boolean => device.merged.length === other.own.length;

function mergedFrom(device: Device, other: Device): Device {
  const seen = { ...device.end.seen, [other.end.device]: other.end.head! };
  const end = { ...device.end, seen };
  const key = keyOf(end, other.own);
  return { ...device, end, merged: other.own, key, pending: other.own.length, mergedStory: other.story };
}

function written<K extends 'reading' | 'strike' | 'release' | 'refusal'>(
  device: Device,
  kind: K,
  body: Body<K>,
  by: TestPerson,
  words: string,
): Device {
  const line = lineOf(device.end, kind, body, by, MINUTE);
  const end: ChainEnd = { ...device.end, head: [line.entry.seq, line.hash], clock: line.entry.clock, seen: {} };
  const key = keyOf(end, device.merged);
  const story = `${device.story}${device.pending === null ? '' : `+${device.pending} `}${words} `;
  return { ...device, end, own: [...device.own, line], key, story, pending: null };
}

const keyOf = ({ name, head }: ChainEnd, merged: readonly Line[]): string =>
  `${name} ${head?.[1] ?? ''} ${merged.at(-1)?.hash ?? ''}`;

/** Where an entry lies, without naming the device. */
function placeOf({ own, merged }: Device, hash: string): string {
  const here = own.findIndex((l) => l.hash === hash);
  const there = merged.findIndex((l) => l.hash === hash);
  return here >= 0 ? `own ${here}` : there >= 0 ? `merged ${there}` : 'base';
}

const signed = (
  device: Device,
  over: Pick<HoldState, 'evidence' | 'evidenceHash'>,
  person: TestPerson,
  role: 'crew-lead' | 'quality',
  how = 'as asked',
): Device =>
  written(
    device,
    'release',
    {
      hold: hold.id,
      plan: PLAN,
      evidence: [...over.evidence],
      evidenceHash: over.evidenceHash,
      meaning: 'seen',
      name: person.name,
      role,
    },
    person,
    `sign ${role} ${how}`,
  );

const refusal = (): Body<'refusal'> => ({
  hold: hold.id,
  plan: PLAN,
  reason: 'not looked at',
  name: quality.name,
  role: 'quality',
});
