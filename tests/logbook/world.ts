import { canonicalJson, sha256Hex, sha256OfHex, shortHash } from '../../shared/logbook/canonical.ts';
import type { Clock } from '../../shared/logbook/clock.ts';
import { castingId, type Entry, entryHash, type Head } from '../../shared/logbook/entry.ts';
import { type Body, type Kind, type Role, signedKinds } from '../../shared/logbook/kinds.ts';
import { Log, type SignatureCheck } from '../../shared/logbook/log.ts';
import { judge } from '../../shared/logbook/state/derived.ts';
import { holdState } from '../../shared/logbook/state/holds.ts';
import { planHashOf, type View, viewOf } from '../../shared/logbook/state/view.ts';
import { nextEntry } from '../../shared/logbook/write.ts';
import { limitsAt } from '../../shared/plan/lookup.ts';
import type { Plan } from '../../shared/plan/schema.ts';
import { smallPlan } from './small-plan.ts';

/** An entry on its way: what a tablet would hand on. */
export interface Line {
  readonly entry: Entry;
  readonly hash: string;
  readonly signature: SignatureCheck;
}

export interface TestPerson {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly Role[];
}

const hexOf = (text: string): string => sha256Hex(text);
/** A made-up public key: these tests hand the result of the signature check in, so no curve is needed. */
const keyOf = (text: string): string => `04${hexOf(text)}${hexOf(`${text}'`)}`;

export class TestTablet {
  readonly key: string;
  readonly device: string;
  readonly lines: Line[] = [];
  head: Head | null = null;
  clock: Clock = [0, 0];
  seen: Record<string, Head> = {};
  /** What this tablet has merged of others. */
  readonly known = new Map<string, Head>();
  readonly log: Log;

  constructor(
    readonly name: string,
    readonly casting: string,
  ) {
    this.key = keyOf(name);
    this.device = shortHash(sha256OfHex(this.key));
    this.log = new Log(casting);
  }

  /** Writes one act; signed acts carry the writer's key of this tablet. */
  write<K extends Kind>(
    kind: K,
    body: Body<K>,
    by: TestPerson,
    minute: number,
    signature: SignatureCheck = 'good',
  ): Line {
    return this.keep(lineOf(this, kind, body, by, minute, signature));
  }

  keep(line: Line): Line {
    this.lines.push(line);
    this.log.add(line.entry, line.hash, line.signature);
    this.head = [line.entry.seq, line.hash];
    this.clock = line.entry.clock;
    this.seen = {};
    return line;
  }

  /** Takes what another tablet has of its own chain up to now. */
  merge(other: TestTablet): void {
    for (const line of other.lines) this.log.add(line.entry, line.hash, line.signature);
    if (!other.head || this.known.get(other.device)?.[0] === other.head[0]) return;
    this.known.set(other.device, other.head);
    this.seen = { ...this.seen, [other.device]: other.head };
  }

  view(): View {
    const view = viewOf(this.log, judge);
    if (!view) throw new Error('This tablet has no genesis');
    return view;
  }
}

/** Where a tablet's chain stands: what its next entry is written on. */
export type ChainEnd = Pick<TestTablet, 'name' | 'casting' | 'device' | 'head' | 'clock'> & {
  readonly seen: Readonly<Record<string, Head>>;
};

/** The next line of a chain; signed acts carry the writer's key of its tablet. */
export function lineOf<K extends Kind>(
  { name, casting, device, head, seen, clock }: ChainEnd,
  kind: K,
  body: Body<K>,
  by: TestPerson,
  minute: number,
  signature: SignatureCheck = 'good',
): Line {
  const at = new Date(Date.UTC(2026, 2, 1) + minute * 60_000).toISOString();
  const unsigned = nextEntry(
    { casting, device, head, seen, clock },
    { kind, body, by: by.id, observedAt: at, recordedAt: at },
  );
  const signed = signedKinds.has(kind) && signature !== 'none';
  const entry: Entry = signed
    ? { ...unsigned, signature: { key: personKey(by, name), value: '0'.repeat(128) } }
    : unsigned;
  return { entry, hash: entryHash(entry), signature: signed ? signature : 'none' };
}

export const personKey = (person: TestPerson, tablet: string): string => keyOf(`${person.id} on ${tablet}`);

export const lead: TestPerson = { id: hexOf('lead').slice(0, 32), name: 'Lead', roles: ['crew-lead', 'keeper'] };
export const quality: TestPerson = { id: hexOf('quality').slice(0, 32), name: 'Quality', roles: ['quality'] };
export const technician: TestPerson = {
  id: hexOf('technician').slice(0, 32),
  name: 'Technician',
  roles: ['technician'],
};

export const genesisBody = (tablet: string, plan: Plan = smallPlan): Body<'genesis'> => ({
  name: 'test casting',
  design: plan.design,
  planHash: planHashOf(plan),
  nonce: 'n',
  practice: false,
  timeZone: 'Etc/UTC',
  dayOne: '2026-03-01',
  founder: { person: lead.id, name: lead.name, roles: [...lead.roles], key: personKey(lead, tablet) },
  device: { name: tablet, key: keyOf(tablet) },
});

/** Tablets of one casting whose roster is set up: the first founds it, all have merged it. */
export function tablets(names: readonly string[], plan: Plan = smallPlan): TestTablet[] {
  const body = genesisBody(names[0]!, plan);
  const all = names.map((name) => new TestTablet(name, castingId(body)));
  const [first, ...others] = all as [TestTablet, ...TestTablet[]];
  first.write('genesis', body, lead, 0);
  first.write('plan', { plan: JSON.parse(canonicalJson(plan)), parents: [] }, lead, 0, 'none');
  for (const person of [quality, technician]) {
    first.write('person', { person: person.id, name: person.name, roles: [...person.roles] }, lead, 1);
  }
  for (const tablet of others)
    first.write('device', { device: tablet.device, key: tablet.key, name: tablet.name }, lead, 2);
  for (const tablet of all) {
    for (const person of tablet === first ? [quality, technician] : [lead, quality, technician]) {
      first.write('key', { person: person.id, key: personKey(person, tablet.name), device: tablet.device }, lead, 3);
    }
  }
  for (const tablet of others) tablet.merge(first);
  return all;
}

/** A reading of the small plan's width, judged as the tablet would. */
export function reading(
  station: string,
  value: number,
  observer: TestPerson = technician,
  replaces?: string,
): Body<'reading'> {
  return {
    operation: '2',
    characteristic: 'width',
    station,
    typed: { text: String(value), unit: 'mm', value },
    conditions: {},
    value,
    limits: { nominal: 100, lower: 99, upper: 101 },
    standardUncertainty: 0.1,
    guard: 0.165,
    verdict: judge.verdict(value, 0.1, 99, 101),
    plan: planHashOf(smallPlan),
    calculations: { conformity: 1 },
    instrument: null,
    observer: observer.id,
    way: 'keypad',
    ...(replaces ? { replaces } : {}),
  };
}

/** A reading of the small plan's width under the plan that the tablet has in force. */
export function readingUnder(
  view: View,
  station: string,
  value: number,
  observer: TestPerson = technician,
  replaces?: string,
): Body<'reading'> {
  const limits = limitsAt(view.plan, 'width', '2', station);
  return {
    ...reading(station, value, observer, replaces),
    limits,
    verdict: judge.verdict(value, 0.1, limits.lower, limits.upper),
    plan: view.planHash,
  };
}

/** The small plan under another name, with other limits of its width. */
export function revisedPlan(revision: string, lower = 99, upper = 101): Plan {
  const [width] = smallPlan.characteristics;
  const limits = [{ ...width!.limits[0]!, lower, upper }];
  return JSON.parse(canonicalJson({ ...smallPlan, revision, characteristics: [{ ...width, limits }] }));
}

export const sheet = (operation: string, answers: Record<string, 'yes' | 'no' | 'not-applicable'>): Body<'sheet'> => ({
  operation,
  answers: Object.entries(answers).map(([item, answer]) => ({ item, answer })),
  plan: planHashOf(smallPlan),
  observer: technician.id,
  way: 'keypad',
});

/** A signature on the small plan's hold point over the evidence as the tablet has it. */
export function releaseBody(tablet: TestTablet, name: string, role: Role): Body<'release'> {
  const view = tablet.view();
  const { evidence, evidenceHash } = holdState(view, view.plan.holds[0]!);
  return {
    hold: 'H1',
    plan: view.planHash,
    evidence: [...evidence],
    evidenceHash,
    meaning: 'seen',
    name,
    role,
  };
}

export const logOf = (casting: string, lines: Iterable<Line>): Log => {
  const log = new Log(casting);
  for (const { entry, hash, signature } of lines) log.add(entry, hash, signature);
  return log;
};
