import { canonicalJson, sha256OfHex, shortHash } from '../../shared/logbook/canonical.ts';
import type { Signer } from '../../shared/logbook/crypto.ts';
import { castingId } from '../../shared/logbook/entry.ts';
import type { Body, Kind, Role } from '../../shared/logbook/kinds.ts';
import { withPredecessors } from '../../shared/logbook/state/sequence.ts';
import { planHashOf } from '../../shared/logbook/state/view.ts';
import { characteristicById, limitsAt, operationById, stationsOf } from '../../shared/plan/lookup.ts';
import type { Characteristic, Plan } from '../../shared/plan/schema.ts';
import { judgedReading } from '../../shared/practice/judged-reading.ts';
import { PracticeTablet } from '../../shared/practice/practice-tablet.ts';
import { type Random, randomOf } from '../../shared/practice/random.ts';

export interface CoresLogPerson {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly Role[];
  readonly signer: Signer;
}

export interface CoresLogWanted {
  readonly seed: string;
  readonly plan: Plan;
  /** Nothing is later than this, ms since 1970. */
  readonly endsAt: number;
  /** Public key of the tablet. */
  readonly tablet: string;
  /** The founder and keeper first; the last one reads and types. */
  readonly people: readonly CoresLogPerson[];
  /** What is measured, by operation: characteristics, and at which of their stations. */
  readonly measured: readonly {
    readonly operation: string;
    readonly characteristic: string;
    readonly stations?: (id: string) => boolean;
  }[];
  /** Operations that are finished with their check sheets, with all before them. */
  readonly finished?: readonly string[];
  /** Statements that a hold point asks for. */
  readonly stated?: readonly { readonly hold: string; readonly requirement: string }[];
}

const MINUTE_MS = 60_000;
const DAY_MS = 24 * 60 * MINUTE_MS;

/**
 * A casting at the stage of its cores, for tests: what is asked for is measured and within, work before it finished.
 * Real entries of one tablet, signed where their kind needs it.
 */
export async function coresLog(wanted: CoresLogWanted): Promise<{ casting: string; lines: string[] }> {
  const plan: Plan = JSON.parse(canonicalJson(wanted.plan));
  const planHash = planHashOf(plan);
  const [founder] = wanted.people;
  const reader = wanted.people.at(-1)!;
  const genesis: Body<'genesis'> = {
    name: 'Casting with its cores set',
    design: plan.design,
    planHash,
    nonce: wanted.seed,
    practice: true,
    timeZone: 'Etc/UTC',
    dayOne: new Date(wanted.endsAt - 40 * DAY_MS).toISOString().slice(0, 10),
    founder: { person: founder!.id, name: founder!.name, roles: [...founder!.roles], key: founder!.signer.publicKey },
    device: { name: 'Core tablet', key: wanted.tablet },
  };
  const casting = castingId(genesis);
  const tablet = new PracticeTablet(casting, wanted.tablet);
  let at = wanted.endsAt - 20 * DAY_MS;
  const write = async <K extends Kind>(kind: K, body: Body<K>, by: CoresLogPerson = founder!): Promise<void> => {
    at = Math.min(at + 20_000, wanted.endsAt);
    const time = new Date(at).toISOString().replace('Z', '+00:00');
    await tablet.write({ kind, body, by: by.id, observedAt: time, recordedAt: time }, by.signer);
  };
  await write('genesis', genesis);
  await write('plan', { plan, parents: [] });
  for (const { id, name, roles, signer } of wanted.people.slice(1)) {
    await write('person', { person: id, name, roles: [...roles] });
    await write('key', { person: id, key: signer.publicKey, device: shortHash(sha256OfHex(wanted.tablet)) });
  }
  const instruments = register(plan, wanted.endsAt);
  for (const line of instruments.values()) await write('instrument', line);
  const random = randomOf(wanted.seed, 'cores');
  for (const { operation, characteristic: id, stations = () => true } of wanted.measured) {
    const c = characteristicById(plan, id)!;
    const instrument = instruments.get(c.instruments[0] ?? '') ?? null;
    for (const station of stationsOf(plan, c)) {
      if (!stations(station.id)) continue;
      const read = valueAt(plan, c, operation, station.id, random);
      const judged = judgedReading({
        plan,
        operation,
        characteristic: c,
        station: station.id,
        read,
        instrument,
        temperatures: c.at20 ? { part_C: 20, scale_C: 20 } : undefined,
      });
      await write(
        'reading',
        {
          operation,
          characteristic: id,
          station: station.id,
          ...judged,
          plan: planHash,
          instrument: instrument?.instrument ?? null,
          observer: reader.id,
          way: 'keypad',
        },
        reader,
      );
    }
  }
  for (const operation of withPredecessors(tablet.view(), wanted.finished ?? [])) {
    const answers = operationById(plan, operation)!.checks.map(({ id }) => ({ item: id, answer: 'yes' as const }));
    await write('sheet', { operation, answers, plan: planHash, observer: reader.id, way: 'keypad' }, reader);
    await write('operation', { operation, mark: 'finished' });
  }
  for (const { hold, requirement } of wanted.stated ?? [])
    await write('attestation', { hold, requirement, words: 'Seen for each core.', plan: planHash });
  return { casting, lines: tablet.lines.map((line) => line.text) };
}

/** Well inside the limits: a fifth of the way from the nominal at the most. */
function valueAt(plan: Plan, c: Characteristic, operation: string, station: string, random: Random): number {
  const { nominal, lower, upper } = limitsAt(plan, c.id, operation, station);
  if (c.kind === 'count') return nominal ?? lower ?? 0;
  const low = lower ?? 0;
  const high = upper ?? low + 100;
  const middle = nominal ?? (low + high) / 2;
  // What has no lower limit is a magnitude.
  return lower === null ? high * random.between(0, 0.2) : middle + random.between(-0.1, 0.1) * (high - low);
}

/** One of each class, in calibration now and at all that was read. */
const register = (plan: Plan, endsAt: number): Map<string, Body<'instrument'>> =>
  new Map(
    plan.instrumentClasses.map((c) => [
      c.id,
      {
        instrument: `${c.id}-1`,
        class: c.id,
        name: c.name,
        unit: c.unit,
        standardUncertainty: 0,
        expansion_per_K: c.expansion_per_K,
        calibratedOn: new Date(endsAt - 90 * DAY_MS).toISOString().slice(0, 10),
        calibrationDue: new Date(endsAt + 200 * DAY_MS).toISOString().slice(0, 10),
      },
    ]),
  );
