import { characteristicById, type limitsAt, readAt } from '../../plan/lookup.ts';
import type { Characteristic, Hold, Requirement, Witness } from '../../plan/schema.ts';
import type { Verdict } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { dayAndTime } from '../time-words.ts';
import { type DerivedValue, GUARD_FACTOR, RANGE } from './derived-value.ts';
import type { Finding } from './findings.ts';
import { findings, findingsOf, spoken } from './findings.ts';
import { usedInstruments } from './hold-scope.ts';
import { limitsOf, stationStates, verdictOf, worst } from './readings.ts';
import { mark, withPredecessors } from './sequence.ts';
import { sheetState } from './sheets.ts';
import { stabilityOf, stabilityWords } from './stability.ts';
import { measuredOf, stationsAsked } from './stations-asked.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';
import { actWords, notice, witnessActs } from './witness-acts.ts';

/** Where a person goes to mend what is missing. */
export type Mend =
  | { readonly to: 'sheet' | 'operation' | 'photos'; readonly operation: string }
  | {
      readonly to: 'survey';
      readonly operation: string;
      readonly characteristic: string;
      readonly station: string | null;
    }
  | { readonly to: 'finding'; readonly finding: string }
  | { readonly to: 'hold'; readonly hold: string }
  | { readonly to: 'instruments' }
  | { readonly to: 'statement'; readonly hold: string; readonly requirement: string; readonly words: string }
  | { readonly to: 'witness'; readonly witness: string }
  | { readonly to: 'record' };

/** The value nearest to, or furthest past, its limits. */
export interface Worst {
  readonly operation: string;
  readonly characteristic: string;
  readonly station: string;
  /** The reading that it is, by its hash; null for a value worked out. */
  readonly reading: string | null;
  readonly value: number;
  readonly limits: ReturnType<typeof limitsAt>;
  readonly guard: number;
}

/** One thing that a hold point needs, met or not. */
export interface Condition {
  readonly id: string;
  readonly title: string;
  /** What stands, or what is missing, in words. */
  readonly words: string;
  readonly met: boolean;
  readonly verdict: Verdict | null;
  /** How many of how many. */
  readonly count: readonly [number, number] | null;
  /** The worst value with its limits, for the strip. */
  readonly worst?: Worst | null;
  readonly unit?: string;
  readonly decimals?: number;
  readonly mend: Mend | null;
}

export type HoldIsReleased = (holdId: string) => boolean;

/** Everything that a hold point needs besides the signatures, in the order in which it is read. */
export function conditionsOf(view: View, hold: Hold, isReleased: HoldIsReleased): Condition[] {
  return [
    finishedCondition(view, hold),
    ...hold.requirements.map((r) => requirementCondition(view, hold, r, isReleased)),
    instrumentCondition(view, hold),
    findingCondition(view, hold),
    ...transferConditions(view),
  ];
}

/** Everything up to the gate finished by its lead, with its check sheet complete. */
function finishedCondition(view: View, hold: Hold): Condition {
  const needed = withPredecessors(view, [...hold.operations, hold.after]);
  const unfinished = needed.filter((id) => mark(view, id, 'finished') === null);
  const unchecked = needed.filter((id) => !unfinished.includes(id) && !sheetState(view, id).complete);
  const open = [...unfinished, ...unchecked];
  const words = [
    ...(unfinished.length > 0 ? [`not finished: ${list(unfinished)}`] : []),
    ...(unchecked.length > 0 ? [`check sheet not complete: ${list(unchecked)}`] : []),
  ];
  return {
    id: 'finished',
    title: `Operations ${needed[0]} to ${needed.at(-1)} finished, check sheets complete`,
    words: words.join('; ') || 'all finished',
    met: open.length === 0,
    verdict: null,
    count: [needed.length - open.length, needed.length],
    mend: open[0] === undefined ? null : { to: 'operation', operation: open[0] },
  };
}

/** One thing that a hold point asks for beyond what all of them need. */
export function requirementCondition(view: View, hold: Hold, need: Requirement, isReleased: HoldIsReleased): Condition {
  switch (need.kind) {
    case 'sheet':
      return sheetCondition(view, need.operation);
    case 'characteristic':
      return characteristicCondition(view, need.characteristic, need.operation);
    case 'rounds':
      return roundsCondition(view, hold, need);
    case 'statement':
      return statementCondition(view, hold, need);
    case 'photos':
      return photosCondition(view, need);
    case 'witness':
      return witnessCondition(view, need.witness);
    case 'holds':
      return holdsCondition(need.holds, isReleased);
  }
}

function sheetCondition(view: View, operation: string): Condition {
  const sheet = sheetState(view, operation);
  const open = sheet.noes.filter(
    (item) => !isDisposed(view, operation, (f) => f.rule === 'answered-no' && f.subject[1] === item.item),
  );
  const name = view.plan.operations.find((o) => o.id === operation)?.name ?? operation;
  const missing = sheet.items.length - sheet.answered;
  const words = [
    ...(missing > 0 ? [`${missing} not answered`] : []),
    ...(open.length > 0 ? [`${open.length} answered no without a decision`] : []),
  ];
  return {
    id: `sheet/${operation}`,
    title: `Check sheet ${operation}, ${name}`,
    words: words.length === 0 ? 'complete' : words.join(', '),
    met: words.length === 0,
    verdict: null,
    count: [sheet.answered, sheet.items.length],
    mend: words.length === 0 ? null : { to: 'sheet', operation },
  };
}

const isDisposed = (view: View, operation: string, which: (f: Finding) => boolean): boolean =>
  findingsOf(view, operation)
    .filter(which)
    .some((f) => f.state === 'accepted' || f.state === 'closed');

interface Judged {
  readonly station: string;
  readonly reading: string | null;
  readonly value: number;
  readonly guard: number;
  readonly limits: ReturnType<typeof limitsAt>;
  readonly verdict: Verdict | null;
}

/** Every station of a characteristic with what stands there, measured or worked out. */
function judgedStations(view: View, characteristic: Characteristic, operation: string): readonly Judged[] {
  const key = `judged/${operation}/${characteristic.id}/${view.judge !== null}`;
  return view.memo.get(key, () => judgeStations(view, characteristic, operation));
}

function judgeStations(view: View, characteristic: Characteristic, operation: string): Judged[] {
  const derived = characteristic.kind === 'derived' ? view.judge?.derive(view, characteristic.id, operation) : null;
  if (derived) return derived.map(guarded);
  const range = view.judge?.range(view, characteristic.id, operation) ?? null;
  const read = [...stationStates(view, operation, characteristic.id).values()].flatMap(({ station, current }) =>
    current.map(
      (r): Judged => ({
        station,
        reading: r.hash,
        value: r.body.value,
        guard: r.body.guard,
        limits: limitsOf(view, r),
        verdict: verdictOf(view, r),
      }),
    ),
  );
  return range ? [...read, guarded(range)] : read;
}

const guarded = (d: DerivedValue): Judged => ({ ...d, reading: null, guard: GUARD_FACTOR * d.standardUncertainty });

const characteristicCondition = (view: View, id: string, operation: string): Condition =>
  view.memo.get(`condition/${operation}/${id}/${view.judge !== null}`, () => conditionOf(view, id, operation));

function conditionOf(view: View, id: string, operation: string): Condition {
  const characteristic = view.plan.characteristics.find((c) => c.id === id)!;
  const judged = judgedStations(view, characteristic, operation);
  const present = new Set(judged.map((j) => j.station).filter((station) => station !== RANGE));
  const bad = judged.filter((j) => j.verdict === 'outside' || j.verdict === 'not-proven');
  const asked = stationsAsked(
    view.plan,
    characteristic,
    operation,
    bad.length === 0,
    view.judge?.sample(view, characteristic, operation),
  );
  const missing = asked.stations?.filter((station) => !present.has(station)) ?? [];
  const undecided = bad.filter((j) => !acceptedAt(view, operation, id, j.station));
  const enough = measuredOf(asked, present) >= asked.least;
  const met = enough && undecided.length === 0;
  return {
    id: `characteristic/${operation}/${id}`,
    title: operationNamed(characteristic, operation),
    words:
      asked.least === 0 && judged.length === 0
        ? 'none recorded'
        : [
            characteristicWords(judged, enough ? 0 : missing.length, bad, undecided),
            ...uncounted(view, operation, id),
            ...restWords(view, characteristic),
          ].join('; '),
    met,
    verdict: worst(judged.map((j) => j.verdict)),
    count: asked.stations && [present.size, asked.stations.length],
    worst: worstOf(judged, operation, id),
    unit: characteristic.unit,
    decimals: characteristic.decimals,
    mend: met ? null : mendOf(view, characteristic, operation, undecided[0]?.station ?? missing[0] ?? null),
  };
}

/** Concessions on a characteristic that do not count, told once each with what they lack. */
function uncounted(view: View, operation: string, characteristic: string): string[] {
  const lacking = findingsOf(view, operation)
    .filter((f) => f.characteristic === characteristic && f.state === 'open')
    .flatMap((f) => f.lacking.map((l) => l.why));
  return [...new Set(lacking)].map((why) => `a concession does not count: ${why}`);
}

const operationNamed = (characteristic: Characteristic, operation: string): string =>
  characteristic.operations.length > 1 ? `${characteristic.name}, operation ${operation}` : characteristic.name;

/** The readings that a derived value comes from are measured, not the value itself. */
function mendOf(view: View, characteristic: Characteristic, operation: string, station: string | null): Mend {
  const derived = characteristic.kind === 'derived' && view.judge?.derive(view, characteristic.id, operation) !== null;
  const source = derived
    ? characteristicById(view.plan, characteristic.derivedFrom?.characteristics[0] ?? '')
    : undefined;
  const read = source && readAt(view.plan, source, operation);
  return source && read
    ? { to: 'survey', operation: read, characteristic: source.id, station: null }
    : { to: 'survey', operation, characteristic: characteristic.id, station };
}

/** Of a change: whether what changed has come to rest. */
function restWords(view: View, { kind, derivedFrom, id }: Characteristic): string[] {
  const source = characteristicById(view.plan, derivedFrom?.characteristics[0] ?? '');
  const found = kind === 'derived' && source ? stabilityOf(view, source) : null;
  return found?.limitedBy.id === id && found.heats.length > 0 ? [stabilityWords(found)] : [];
}

function characteristicWords(
  judged: readonly Judged[],
  missing: number,
  bad: readonly Judged[],
  undecided: readonly Judged[],
): string {
  if (judged.length === 0) return 'not measured';
  const of = (list: readonly Judged[], verdict: Verdict) => list.filter((j) => j.verdict === verdict).length;
  const parts = [
    ...(missing > 0 ? [`${missing} not measured`] : []),
    ...(['outside', 'not-proven'] as const).flatMap((v) =>
      of(undecided, v) > 0 ? [`${of(undecided, v)} ${spoken(v)}`] : [],
    ),
    ...(bad.length > undecided.length ? [`${bad.length - undecided.length} under a concession`] : []),
  ];
  const within = of(judged, 'within');
  return [...(within > 0 ? [`${within} within`] : []), ...parts].join(', ') || `${judged.length} recorded`;
}

function worstOf(judged: readonly Judged[], operation: string, characteristic: string): Worst | null {
  const limited = judged.filter((j) => j.limits.lower !== null || j.limits.upper !== null);
  const room = (j: Judged) =>
    Math.min(
      j.limits.upper === null ? Infinity : j.limits.upper - j.value,
      j.limits.lower === null ? Infinity : j.value - j.limits.lower,
    );
  let nearest: Judged | null = null;
  for (const j of limited) if (nearest === null || room(j) < room(nearest)) nearest = j;
  if (!nearest) return null;
  const { station, reading, value, limits, guard } = nearest;
  return { operation, characteristic, station, reading, value, limits, guard };
}

/** Whether everything found at a station is under an accepted disposition. */
const acceptedAt = (view: View, operation: string, characteristic: string, station: string): boolean =>
  acceptances(view, operation).get(`${characteristic}/${station}`) ?? false;

/** By characteristic and station of an operation: found wrong there, and accepted in every point. */
function acceptances(view: View, operation: string): ReadonlyMap<string, boolean> {
  return view.memo.get(`accepted/${operation}/${view.judge !== null}`, () => {
    const places = new Map<string, boolean>();
    for (const f of findingsOf(view, operation)) {
      if (!VERDICT_RULES.has(f.rule) || f.state === 'closed') continue;
      for (const station of stationsIn(view, f)) {
        const place = `${f.characteristic}/${station}`;
        places.set(place, (places.get(place) ?? true) && f.state === 'accepted');
      }
    }
    return places;
  });
}

const VERDICT_RULES: ReadonlySet<string> = new Set(['outside', 'not-proven', 'derived-outside', 'instrument-bad']);

/** Some findings are about many stations at once. */
function stationsIn(view: View, { station, causes }: Finding): readonly string[] {
  if (station !== undefined) return [station];
  return causes.flatMap((hash) => {
    const cause = view.log.get(hash);
    return cause?.entry.kind === 'reading' ? [(cause as Kept<'reading'>).body.station] : [];
  });
}

function roundsCondition(view: View, hold: Hold, need: Requirement & { kind: 'rounds' }): Condition {
  const rounds = view.judge?.rounds(view, hold, need);
  const byHand = findingsOf(view, need.operation).some(
    (f) =>
      f.operation === need.operation &&
      f.rule === 'by-hand' &&
      f.title === roundsTitle(need.heatPlan) &&
      f.state === 'accepted',
  );
  const met = byHand || (rounds !== undefined && rounds.due > 0 && rounds.lacking.length === 0);
  return {
    id: `rounds/${need.heatPlan}`,
    title: `Rounds of heat ${need.heatPlan}${need.share > 0 ? `, at least ${Math.round(need.share * 100)} %` : ''}`,
    words: byHand
      ? 'under a concession'
      : !rounds || rounds.due === 0
        ? 'the heat was not started'
        : [`${rounds.recorded} of ${rounds.due} recorded`, ...rounds.lacking].join(', '),
    met,
    verdict: null,
    count: [rounds?.recorded ?? 0, rounds?.due ?? 0],
    mend: met ? null : { to: 'operation', operation: need.operation },
  };
}

/** The title of a finding by hand that says what is missing of a heat's rounds. */
export const roundsTitle = (heatPlan: string): string => `Rounds of heat ${heatPlan} are missing`;

function statementCondition(view: View, hold: Hold, need: Requirement & { kind: 'statement' }): Condition {
  const stated = live(view, `attestation/${hold.id}`, 'attestation').find((a) => a.body.requirement === need.id);
  const name = stated ? (view.standing.person(stated.entry.by)?.name ?? '') : '';
  return {
    id: `statement/${need.id}`,
    title: need.words,
    words: stated ? `stated by ${name}: ${stated.body.words}` : 'not stated',
    met: stated !== undefined,
    verdict: null,
    count: null,
    mend: stated ? null : { to: 'statement', hold: hold.id, requirement: need.id, words: need.words },
  };
}

function photosCondition(view: View, need: Requirement & { kind: 'photos' }): Condition {
  const { operation, photo, least } = need;
  const count = live(view, `photo/${operation}`, 'photo')
    .filter(({ body }) => body.wanted === photo)
    .reduce((sum, { body }) => sum + body.photos.length, 0);
  const met = count >= least;
  return {
    id: `photos/${operation}/${photo}`,
    title: `Photos: ${photo}`,
    words: met ? `${count} kept` : `${count} kept, at least ${least} wanted`,
    met,
    verdict: null,
    count: [count, least],
    mend: met ? null : { to: 'photos', operation },
  };
}

function witnessCondition(view: View, id: string): Condition {
  const witness = view.plan.witnesses.find((w) => w.id === id)!;
  const acts = witnessActs(view, witness);
  const met = acts.some((a) => a.settles);
  const waits = met ? [] : noticeWaits(view, witness);
  return {
    id: `witness/${id}`,
    title: `Witness point ${id}, ${witness.name}`,
    words:
      acts.length === 0
        ? 'the witness has not been told'
        : [...acts.map((a) => actWords(a, witness)), ...waits].join(', '),
    met,
    verdict: null,
    count: null,
    mend: met ? null : { to: 'witness', witness: id },
  };
}

/** What a witness who was told still waits for. */
function noticeWaits(view: View, witness: Witness): string[] {
  const { ends_ms, lacks } = notice(view, witness);
  const { secondNotice_h } = witness;
  if (lacks === 'second')
    return [
      `a second notice is still to be given, ${secondNotice_h} h ahead and at least ${secondNotice_h} h after the first`,
    ];
  if (ends_ms === null) return [];
  const { dayOne, timeZone } = view.genesis;
  return [`its notice runs until ${dayAndTime(new Date(ends_ms), dayOne, timeZone)}`];
}

function holdsCondition(holds: readonly string[], isReleased: HoldIsReleased): Condition {
  const open = holds.filter((id) => !isReleased(id));
  return {
    id: 'holds',
    title: `Hold points ${list(holds)} released`,
    words: open.length === 0 ? 'all released' : `not released: ${list(open)}`,
    met: open.length === 0,
    verdict: null,
    count: [holds.length - open.length, holds.length],
    mend: open[0] === undefined ? null : { to: 'hold', hold: open[0] },
  };
}

function instrumentCondition(view: View, hold: Hold): Condition {
  const used = usedInstruments(view, hold);
  const out = used.filter(({ calibrated }) => !calibrated);
  return {
    id: 'instruments',
    title: 'Instruments in calibration when used',
    words:
      out.length === 0
        ? used.length === 0
          ? 'none used yet'
          : list(used.map((u) => u.id))
        : `out of calibration: ${list(out.map((o) => o.id))}`,
    met: out.length === 0,
    verdict: null,
    count: [used.length - out.length, used.length],
    mend: out.length === 0 ? null : { to: 'instruments' },
  };
}

function findingCondition(view: View, hold: Hold): Condition {
  const blocking = blockingFindings(view, hold);
  return {
    id: 'findings',
    title: 'No finding blocks',
    words: blocking.length === 0 ? 'none' : list(blocking.map((f) => `${f.title}${lackingWords(f)}`)),
    met: blocking.length === 0,
    verdict: null,
    count: null,
    mend: blocking[0] ? { to: 'finding', finding: blocking[0].id } : null,
  };
}

/** Why a concession that was given does not clear a finding. */
const lackingWords = ({ lacking }: Finding): string => {
  const last = lacking.at(-1);
  return last ? ` (its concession does not count: ${last.why})` : '';
};

export const blockingFindings = (view: View, hold: Hold): readonly Finding[] => blocking(view).get(hold.id) ?? [];

/** The findings that block, by hold point. */
const blocking = (view: View): ReadonlyMap<string, readonly Finding[]> =>
  view.memo.get(`blocking/${view.judge !== null}`, () => {
    const byHold = new Map<string, Finding[]>();
    for (const f of findings(view)) {
      if (f.blocks === null || f.state === 'accepted' || f.state === 'closed') continue;
      byHold.set(f.blocks, [...(byHold.get(f.blocks) ?? []), f]);
    }
    return byHold;
  });

/** What this tablet knows that it does not have, or cannot read: with that nothing is signed. */
function transferConditions(view: View): Condition[] {
  const { log } = view;
  const { unreadable } = log.gaps();
  const missing = [...missingEntries(view)].map(([device, count]) => `${count} of ${tabletName(view, device)}`);
  const forked = log.devices().filter((device) => log.forkOf(device) !== null && !isForkDecided(view, device));
  return [
    ...faulty('missing', 'Entries that other tablets knew are here', missing),
    ...faulty(
      'forks',
      'No tablet wrote twice at one place',
      forked.map((d) => tabletName(view, d)),
    ),
    ...faulty(
      'unknown',
      'Every entry can be read by this version',
      unreadable > 0 ? [`${unreadable} of a newer kind`] : [],
    ),
  ];
}

/**
 * By tablet, how many of its entries are known and not here: others had seen them, or one behind them came. At least one
 * is where another stands at its place, as one that was changed does. What waits on a chain that nobody admitted holds
 * nothing up.
 */
export function missingEntries(view: View): ReadonlyMap<string, number> {
  const { log, standing } = view;
  const { seen, unseen, waiting } = log.gaps();
  const known = new Map(seen);
  const least = new Map([...unseen].map((device) => [device, 1]));
  for (const { device } of standing.tablets()) {
    const last = waiting.get(device);
    known.set(device, Math.max(known.get(device) ?? 0, (last ?? 0) - 1));
    if (last !== undefined) least.set(device, 1);
  }
  const counts = [...known].map(
    ([device, seq]) => [device, Math.max(seq - log.furthest(device), least.get(device) ?? 0)] as const,
  );
  return new Map(counts.filter(([, count]) => count > 0).sort());
}

const isForkDecided = (view: View, device: string): boolean =>
  view.log
    .inScope<'adoption'>('roster')
    .some((a) => a.kind === 'adoption' && a.body.device === device && view.standing.counts(a as never));

const tabletName = (view: View, device: string): string =>
  view.standing.tablets().find((t) => t.device === device)?.name ?? `tablet ${device.slice(0, 8)}`;

const faulty = (id: string, title: string, what: readonly string[]): Condition[] =>
  what.length === 0
    ? []
    : [{ id, title, words: `not so: ${list(what)}`, met: false, verdict: null, count: null, mend: { to: 'record' } }];

const list = (words: readonly string[]): string =>
  words.length > 6 ? `${words.slice(0, 5).join(', ')} and ${words.length - 5} more` : words.join(', ');
