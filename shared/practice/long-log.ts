import { canonicalJson, sha256Hex, sha256OfHex, shortHash } from '../logbook/canonical.ts';
import type { Clock } from '../logbook/clock.ts';
import type { Signer } from '../logbook/crypto.ts';
import { castingId, entryHash, type Head } from '../logbook/entry.ts';
import { type Body, type Kind, signedKinds } from '../logbook/kinds.ts';
import { judge } from '../logbook/state/derived.ts';
import { GUARD_FACTOR } from '../logbook/state/derived-value.ts';
import { planHashOf } from '../logbook/state/view.ts';
import { nextEntry, signEntry } from '../logbook/write.ts';
import { limitsAt, stationsOf } from '../plan/lookup.ts';
import type { Characteristic, Plan } from '../plan/schema.ts';
import { type Random, randomOf } from './random.ts';

export interface LongLogWanted {
  readonly seed: string;
  readonly entries: number;
  readonly plan: Plan;
  /** ms since 1970 of the last entry. */
  readonly endsAt: number;
  /** One signer a tablet; the first tablet is the one that opens the log. */
  readonly tablets: readonly string[];
  /** The writer's signer on each tablet. */
  readonly signers: readonly Signer[];
  readonly person: string;
}

/** Share of entries that strike an earlier one. */
const STRIKES = 0.05;
/** So many entries before the last one, a minute each, the preheat begins that runs when the log is opened. */
const HEAT_BEGINS_BEFORE = 330;

interface Chain {
  readonly key: string;
  readonly signer: Signer;
  readonly device: string;
  head: Head | null;
  clock: Clock;
  seen: Record<string, Head>;
}

/**
 * A log as long as a campaign, for measuring: real chains of several tablets that merge now and then, every kind of
 * daily work, readings spread over all stations of the plan, strikes among them.
 * @returns canonical lines in the order in which the first tablet would have received them.
 */
export async function* longLog(wanted: LongLogWanted): AsyncGenerator<string, void> {
  const plan: Plan = JSON.parse(canonicalJson(wanted.plan));
  const planHash = planHashOf(plan);
  const random = randomOf(wanted.seed, 'long log');
  const genesis = genesisOf(wanted, planHash);
  const casting = castingId(genesis);
  const chains = wanted.tablets.map(
    (key, i): Chain => ({
      key,
      signer: wanted.signers[i]!,
      device: deviceOf(key),
      head: null,
      clock: [0, 0],
      seen: {},
    }),
  );
  const struckable: string[] = [];
  let written = 0;
  const write = async (chain: Chain, kind: Kind, body: Body<Kind>): Promise<string> => {
    const at = new Date(wanted.endsAt - (wanted.entries - written) * 60_000).toISOString();
    const unsigned = nextEntry(
      { casting, device: chain.device, head: chain.head, seen: chain.seen, clock: chain.clock },
      { kind, body, by: wanted.person, observedAt: at, recordedAt: at },
    );
    const entry = signedKinds.has(kind) && kind !== 'plan' ? await signEntry(unsigned, chain.signer) : unsigned;
    const hash = entryHash(entry);
    Object.assign(chain, { head: [entry.seq, hash], clock: entry.clock, seen: {} });
    written += 1;
    if (kind === 'reading' || kind === 'note' || kind === 'sheet') struckable.push(hash);
    return canonicalJson(entry);
  };
  const [first, ...others] = chains as [Chain, ...Chain[]];
  yield await write(first, 'genesis', genesis);
  yield await write(first, 'plan', { plan, parents: [] });
  for (const { key, device } of others)
    yield await write(first, 'device', { device, key, name: `tablet ${device.slice(0, 4)}` });
  for (const chain of others)
    yield await write(first, 'key', { person: wanted.person, key: chain.signer.publicKey, device: chain.device });
  for (const chain of others) chain.seen = { [first.device]: first.head! };
  for (const body of instruments(plan)) yield await write(first, 'instrument', body);
  const work = dailyWork(plan, planHash, wanted.person, random);
  const heatBegins = Math.max(written, wanted.entries - HEAT_BEGINS_BEFORE);
  while (written < wanted.entries) {
    if (written === heatBegins) {
      yield await write(first, 'operation', heatBegun(plan));
      continue;
    }
    const chain = chains[Math.floor(random.uniform() * chains.length)]!;
    if (random.uniform() < 0.02) mergeAll(chain, chains);
    const strikes = struckable.length > 0 && random.uniform() < STRIKES;
    const target = struckable[Math.floor(random.uniform() * struckable.length)];
    const [kind, body] = strikes ? (['strike', { target: target!, reason: 'mistyped' }] as const) : work();
    yield await write(chain, kind, body as Body<Kind>);
  }
}

function heatBegun({ heatPlans: [preheat] }: Plan): Body<'operation'> {
  return { operation: preheat!.operations[0]!, mark: 'started', heat: preheat!.id };
}

const deviceOf = (key: string): string => shortHash(sha256OfHex(key));

function genesisOf(
  { seed, plan: { design }, tablets, signers, person }: LongLogWanted,
  planHash: string,
): Body<'genesis'> {
  return {
    name: 'Long practice log',
    design,
    planHash,
    nonce: sha256Hex(seed),
    practice: true,
    timeZone: 'Etc/UTC',
    dayOne: '2026-01-01',
    founder: {
      person,
      name: 'Practice writer',
      roles: ['crew-lead', 'keeper', 'technician', 'process-engineer', 'quality'],
      key: signers[0]!.publicKey,
    },
    device: { name: 'Long tablet', key: tablets[0]! },
  };
}

function mergeAll(chain: Chain, chains: readonly Chain[]): void {
  for (const other of chains)
    if (other !== chain && other.head) chain.seen = { ...chain.seen, [other.device]: other.head };
}

const instruments = (plan: Plan): Body<'instrument'>[] =>
  plan.instrumentClasses.map((c) => ({
    instrument: `${c.id}-1`,
    class: c.id,
    name: c.name,
    unit: c.unit,
    standardUncertainty: c.standardUncertainty ?? 0.1,
    expansion_per_K: c.expansion_per_K,
    calibratedOn: '2025-12-01',
    calibrationDue: '2027-12-01',
  }));

/** A shift's work, drawn at random: mostly readings, and of everything else something. */
function dailyWork(plan: Plan, planHash: string, person: string, random: Random): () => readonly [Kind, unknown] {
  const measured = plan.operations.flatMap((o) =>
    o.measures.flatMap((id) => {
      const c = plan.characteristics.find((x) => x.id === id);
      return c && c.kind !== 'derived' && stationsOf(plan, c).length > 0 ? [[o.id, c] as const] : [];
    }),
  );
  const places = measured.flatMap(([operation, c]) =>
    stationsOf(plan, c).map((s) => ({ operation, c, station: s.id })),
  );
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random.uniform() * list.length)]!;
  const operation = () => pick(plan.operations);
  return () => {
    const draw = random.uniform();
    if (draw < 0.8) return ['reading', readingAt(plan, planHash, person, pick(places), random)];
    if (draw < 0.86) {
      const o = operation();
      return [
        'sheet',
        {
          operation: o.id,
          answers: o.checks.map((c) => ({ item: c.id, answer: 'yes' })),
          plan: planHash,
          observer: person,
          way: 'keypad',
        },
      ];
    }
    if (draw < 0.92) return ['round', roundOf(plan, planHash, person, random)];
    if (draw < 0.95)
      return ['note', { operation: operation().id, text: `seen at ${Math.floor(random.uniform() * 360)}°` }];
    if (draw < 0.97) return ['operation', { operation: operation().id, mark: 'started' }];
    if (draw < 0.98)
      return ['finding', { operation: operation().id, title: 'chip at an edge', severity: 'minor', blocks: null }];
    if (draw < 0.99)
      return ['attestation', { hold: pick(plan.holds).id, requirement: 'seen', words: 'seen', plan: planHash }];
    return ['witness', { witness: pick(plan.witnesses).id, act: 'told' }];
  };
}

function readingAt(
  plan: Plan,
  planHash: string,
  person: string,
  place: { operation: string; c: Characteristic; station: string },
  random: Random,
): Body<'reading'> {
  const { operation, c, station } = place;
  const limits = limitsAt(plan, c.id, operation, station);
  const low = limits.lower ?? (limits.upper ?? 1) - 2;
  const high = limits.upper ?? low + 2;
  // Most lie well inside; a few near or past a limit, as in life.
  const value = Number(((low + high) / 2 + ((high - low) / 6) * random.normal() * 1.2).toFixed(c.decimals));
  const standardUncertainty = c.uncertainty ?? 0;
  return {
    operation,
    characteristic: c.id,
    station,
    typed: { text: String(value), unit: c.unit, value },
    conditions: {},
    value,
    limits,
    standardUncertainty,
    guard: GUARD_FACTOR * standardUncertainty,
    verdict: judge.verdict(value, standardUncertainty, limits.lower, limits.upper),
    plan: planHash,
    calculations: { conformity: 1 },
    instrument: c.instruments[0] ? `${c.instruments[0]}-1` : null,
    observer: person,
    way: 'keypad',
  };
}

function roundOf(plan: Plan, planHash: string, person: string, random: Random): Body<'round'> {
  const heat = plan.heatPlans[Math.floor(random.uniform() * plan.heatPlans.length)]!;
  return {
    operation: heat.operations[0]!,
    heatPlan: heat.id,
    extent: 'key',
    dueAt: null,
    plan: planHash,
    observer: person,
    way: 'keypad',
    readings: plan.channels
      .filter((c) => c.key)
      .map((c) => ({ channel: c.id, value: Math.round(400 + 20 * random.normal()), state: 'good' })),
  };
}
