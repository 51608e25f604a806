import { canonicalJson, sha256OfHex, shortHash } from '../logbook/canonical.ts';
import type { Signer } from '../logbook/crypto.ts';
import { castingId } from '../logbook/entry.ts';
import type { Kind } from '../logbook/kinds.ts';
import { planHashOf } from '../logbook/state/view.ts';
import type { Act } from '../logbook/write.ts';
import type { Plan } from '../plan/schema.ts';
import { type CrewKey, crewKeys } from './crew.ts';
import { exchange, inOrder, type Known, type PracticeEvent, type Writing } from './events.ts';
import { evenings, type Founding, founding, genesisBody } from './founding.ts';
import type { LoggerRecord } from './logger-record.ts';
import { PracticeTablet } from './practice-tablet.ts';
import { register } from './register.ts';
import { Site } from './site.ts';
import { type Story, type StoryName, stories } from './stages.ts';
import { DAY_MS, type Timetable, timetable } from './timetable.ts';

export interface PracticePerson {
  readonly id: string;
  /** Their signer on each of the two tablets. */
  readonly signers: readonly [Signer, Signer];
}

export interface PracticeWanted {
  /** The same seed tells the same story; keys, and with them hashes and signatures, differ. */
  readonly seed: string;
  /** How far it goes; left out: to the survey after preheat. */
  readonly story?: StoryName | Story;
  /** Nothing is later than this, ms since 1970; the last work falls on the latest day on which it is past. */
  readonly endsAt: number;
  /** Of the invented hall, minutes east of Greenwich, and the name of its time zone. */
  readonly utcOffset: number;
  readonly timeZone: string;
  readonly plan: Plan;
  /** Public keys of the two tablets; the first is the one that opens the casting. */
  readonly tablets: readonly [string, string];
  readonly people: { readonly [K in CrewKey]: PracticePerson };
  /** Told now and then how many entries are written; waited for, so that a browser can draw in between. */
  readonly onProgress?: ((done: number, of: number) => void | Promise<void>) | undefined;
}

export interface Practice {
  readonly casting: string;
  /** Canonical lines: the first tablet's chain, then the second's. */
  readonly lines: readonly string[];
  /** Loggers' files that the entries name. */
  readonly files: readonly LoggerRecord[];
}

/** Entries between two reports of progress. */
const REPORT_EVERY = 40;

/**
 * Makes the practice casting: some forty days of an invented crew's entries on two tablets, to the middle of the
 * survey after preheat; or on to the melt watch.
 */
export async function generatePractice(wanted: PracticeWanted): Promise<Practice> {
  const plan: Plan = JSON.parse(canonicalJson(wanted.plan));
  const planHash = planHashOf(plan);
  const { story = 'survey' } = wanted;
  const { last, stages }: Story = typeof story === 'string' ? stories[story] : story;
  const time = timetable({ plan, endsAt: wanted.endsAt, last, utcOffset: wanted.utcOffset });
  const founded = foundingOf(wanted, plan, planHash, time);
  const instruments = register(plan, time, time.at(last.operation, last.share));
  const site = new Site(wanted.seed, plan, planHash, time, (who) => wanted.people[who].id, instruments, wanted.endsAt);
  const events = inOrder([
    ...founding(founded, plan, instruments.values()),
    ...evenings(time, time.at('3.3', 0) - DAY_MS).flatMap(exchange),
    ...stages.flatMap((stage) => stage(site)),
  ]);
  const casting = castingId(genesisBody(founded));
  const tablets = [
    new PracticeTablet(casting, wanted.tablets[0]),
    new PracticeTablet(casting, wanted.tablets[1]),
  ] as const;
  await writeAll(events, tablets, wanted, time);
  const lines = tablets.flatMap((tablet) => tablet.lines.map((line) => line.text));
  return { casting, lines, files: site.files };
}

function foundingOf(wanted: PracticeWanted, plan: Plan, planHash: string, time: Timetable): Founding {
  const { seed, timeZone, tablets, people } = wanted;
  const device = (key: string) => shortHash(sha256OfHex(key));
  const personKeys = (who: CrewKey) => {
    const { id, signers } = people[who];
    return { id, keys: [signers[0].publicKey, signers[1].publicKey] as const };
  };
  return {
    seed,
    time,
    timeZone,
    design: plan.design,
    planHash,
    tabletKeys: tablets,
    devices: [device(tablets[0]), device(tablets[1])],
    people: Object.fromEntries(crewKeys.map((who) => [who, personKeys(who)])) as unknown as Founding['people'],
  };
}

async function writeAll(
  events: readonly PracticeEvent[],
  tablets: readonly [PracticeTablet, PracticeTablet],
  { people, onProgress }: PracticeWanted,
  time: Timetable,
): Promise<void> {
  const hashes = new Map<string, string>();
  for (const [index, event] of events.entries()) {
    if (index % REPORT_EVERY === 0) await onProgress?.(index, events.length);
    const tablet = tablets[event.tablet];
    if (event.kind === 'merge') {
      tablet.merge(tablets[event.tablet === 0 ? 1 : 0], event.at);
      continue;
    }
    const known = knownTo(tablet, hashes);
    if (event.only?.(known) === false) continue;
    const hash = await tablet.write(actOf(event, known, people, time), signerOf(event, people));
    if (event.key !== undefined) hashes.set(event.key, hash);
  }
  await onProgress?.(events.length, events.length);
}

const signerOf = (event: { by: CrewKey; tablet: 0 | 1 }, people: PracticeWanted['people']): Signer =>
  people[event.by].signers[event.tablet];

const knownTo = (tablet: PracticeTablet, hashes: ReadonlyMap<string, string>): Known => ({
  hashOf: (key) => {
    const hash = hashes.get(key);
    if (hash === undefined) throw new Error(`Nothing is written yet under ${key}`);
    return hash;
  },
  view: () => tablet.view(),
});

function actOf(
  event: { [K in Kind]: Writing<K> }[Kind],
  known: Known,
  people: PracticeWanted['people'],
  time: Timetable,
): Act {
  const { kind, by, at, observedAt } = event;
  const body = typeof event.body === 'function' ? event.body(known) : event.body;
  return { kind, body, by: people[by].id, observedAt: time.iso(observedAt ?? at), recordedAt: time.iso(at) } as Act;
}
