import type { WorkingLine } from '../../calculations/calculation.ts';
import { characteristicById, limitsAt, stationById } from '../../plan/lookup.ts';
import type { Characteristic } from '../../plan/schema.ts';
import { canonicalJson, sha256Hex } from '../canonical.ts';
import type { Body, Disposition, Role, Severity, Verdict } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { concessionLacks } from './concession.ts';
import { isOfCoreTakenOut } from './core-changes.ts';
import { type DerivedValue, RANGE } from './derived-value.ts';
import { operationsOf } from './hold-scope.ts';
import { inCalibration, instrument } from './instruments.ts';
import { byTime, figuresVerdict, isRejudged, isReplaced, keptVerdict, stationState } from './readings.ts';
import { recallFacts } from './recall-facts.ts';
import { workThat } from './sequence.ts';
import { sheetState } from './sheets.ts';
import { signedOf, stoodBefore } from './signatures.ts';
import { live } from './strikes.ts';
import { anyKind, type View } from './view.ts';

export type Rule =
  | 'outside'
  | 'not-proven'
  | 'answered-no'
  | 'two-readings'
  | 'instrument-out'
  | 'instrument-bad'
  | 'another-instrument'
  | 'late'
  | 'out-of-sequence'
  | 'passed-unreleased'
  | 'behind-doubt'
  | 'finished-short'
  | 'verdict-differs'
  | 'derived-outside'
  | 'missed-round'
  | 'overdue-arrangement'
  | 'alarm';

/** What a rule found, or a person raised, before what people say about it. */
export interface Fact {
  readonly rule: Rule | 'by-hand';
  /** What it is about: two tablets that find the same fact name it alike. */
  readonly subject: readonly string[];
  readonly operation: string;
  readonly characteristic?: string;
  readonly station?: string;
  readonly severity: Severity;
  readonly blocks: string | null;
  /** The person who looks after it, where somebody was named. */
  readonly owner?: string;
  readonly title: string;
  readonly words: string;
  readonly causes: readonly string[];
  /** A re-measure within its limits has closed it. */
  readonly settled: boolean;
  readonly alarm?: AlarmFound;
}

/** What an alarm of the plan adds to what was found. */
export interface AlarmFound {
  /** As the plan names it. */
  readonly id: string;
  /** The role that answers it. */
  readonly owner: string | null;
  readonly call: string | null;
  /** The heat in whose rounds it was found. */
  readonly heatPlan: string | null;
  /** It held in the last round, or reading, in which it could be judged. */
  readonly stands: boolean;
  /** From what was read to the threshold, at its worst. */
  readonly lines: readonly WorkingLine[];
  /** The named calculation behind it; left out where it is a plain difference or mean. */
  readonly worked?: NonNullable<DerivedValue['worked']>;
}

export type FindingState = 'open' | 'in work' | 'accepted' | 'closed';

export interface Finding extends Fact {
  readonly id: string;
  readonly dispositions: readonly Kept<'disposition'>[];
  /** Concessions that count for nothing, each with what it lacks. */
  readonly lacking: readonly { readonly disposition: Kept<'disposition'>; readonly why: string }[];
  readonly state: FindingState;
}

/** Who has the authority to accept which disposition. */
export const authority: { readonly [D in Disposition]: readonly Role[] } = {
  rework: ['crew-lead', 'process-engineer', 'quality'],
  repair: ['process-engineer', 'quality'],
  concession: ['quality'],
  regrade: ['process-engineer', 'quality'],
  scrap: ['quality'],
};

const LATE_MS = 4 * 3_600_000;

/** All findings, derived and by hand, in the order of the plan's operations. */
export function findings(view: View): Finding[] {
  return view.memo.get(`findings/${view.judge !== null}`, () =>
    view.plan.operations.flatMap((o) => findingsOf(view, o.id)),
  );
}

/** The findings on one operation. */
export const findingsOf = (view: View, operation: string): readonly Finding[] =>
  view.memo.get(`findings/${operation}/${view.judge !== null}`, () => [
    ...findingsAtStations(view, operation),
    ...factsOf(view, operation).map((fact) => judged(view, fact)),
  ]);

export const findingById = (view: View, id: string): Finding | null => findings(view).find((f) => f.id === id) ?? null;

/** What a rule found is named by the rule and what it is about; what a person raised, by its entry. */
export const findingId = (rule: Rule | 'by-hand', subject: readonly string[]): string =>
  rule === 'by-hand' ? subject[0]! : sha256Hex(canonicalJson([rule, ...subject]));

function factsOf(view: View, operation: string): Fact[] {
  return [
    ...sheetFacts(view, operation),
    ...recallFacts(view, operation),
    ...(view.judge?.orderFacts(view, operation) ?? []),
    ...passedHolds(view, operation),
    ...handFacts(view, operation),
    ...derivedFacts(view, operation),
    ...(view.judge?.roundFacts(view, operation) ?? []),
    ...(view.judge?.arrangementFacts(view, operation) ?? []),
    ...(view.judge?.checkFacts(view, operation) ?? []),
  ];
}

/** Kept station by station: a reading touches no other's. */
function findingsAtStations(view: View, operation: string): Finding[] {
  return view.log
    .scopeNames(`station/${operation}/`)
    .flatMap((scope) =>
      view.memo.get(`findings/${scope}/${view.judge !== null}`, () =>
        stationFacts(view, scope).map((fact) => judged(view, fact)),
      ),
    );
}

function stationFacts(view: View, scope: string): Fact[] {
  const facts = live(view, scope, 'reading').flatMap((r) => factsOfReading(view, r));
  const { current, station } = stationState(view, scope);
  if (current.length < 2) return facts;
  const { operation, characteristic } = current[0]!.body;
  if (characteristicById(view.plan, characteristic)?.sampling.repeated) return facts;
  const double: Fact = {
    ...about(current[0]!),
    rule: 'two-readings',
    subject: [operation, characteristic, station],
    severity: 'minor',
    title: `Two readings stand at ${stationLabel(view, characteristic, station)}`,
    words: 'Neither says that it replaces the other. The worse verdict rules until a person strikes or replaces one.',
    causes: current.map((r) => r.hash),
    settled: false,
  };
  return [...facts, double];
}

function about(reading: Kept<'reading'>): Pick<Fact, 'operation' | 'characteristic' | 'station' | 'blocks'> {
  const { operation, characteristic, station } = reading.body;
  return { operation, characteristic, station, blocks: null };
}

/** A station as it is read out. */
export function stationLabel(view: View, characteristic: string, station: string): string {
  const planned = characteristicById(view.plan, characteristic);
  return (planned && stationById(view.plan, planned, station)?.label) ?? station;
}

/** Most readings are good: within, in calibration and in time. */
function isPlain(view: View, reading: Kept<'reading'>, verdict: Verdict | null): boolean {
  const { body, entry } = reading;
  const inTime = lateBy(entry) <= LATE_MS;
  if (view.line.length > 2 && judgedBefore(view, reading, verdict).size > 0) return false;
  return (
    verdict === body.verdict && (verdict === null || verdict === 'within') && inTime && wasCalibrated(view, body, entry)
  );
}

const lateBy = (entry: Kept['entry']): number => Date.parse(entry.recordedAt) - Date.parse(entry.observedAt);

const wasCalibrated = (view: View, body: Body<'reading'>, entry: Kept['entry']): boolean =>
  body.instrument === null || inCalibration(instrument(view, body.instrument), entry.observedAt);

function factsOfReading(view: View, reading: Kept<'reading'>): Fact[] {
  const { body, hash } = reading;
  if (isPlain(view, reading, figuresVerdict(view, reading))) return [];
  const name = characteristicById(view.plan, body.characteristic)?.name ?? body.characteristic;
  const where = body.station === 'one' ? name : `${name}, ${stationLabel(view, body.characteristic, body.station)}`;
  const verdict = figuresVerdict(view, reading);
  const base = { ...about(reading), subject: [hash], causes: [hash] };
  const settled = isReplaced(view, reading) || isOfCoreMeasuredAgain(view, reading);
  const kept = keptVerdict(view, body);
  const facts: Fact[] = [...judgedBefore(view, reading, verdict)].map((v) => ({
    ...base,
    ...verdictWords(v, where),
    words: `By an earlier plan revision. By the one that judges it now it is ${spoken(verdict)}.`,
    settled: true,
  }));
  if (verdict === 'outside' || verdict === 'not-proven') {
    const said = verdictWords(verdict, where);
    const words = `${said.words}${rejudgedWords(view, reading)}`;
    facts.push({ ...base, ...said, words, blocks: blocksNext(view, body.operation, [hash]), settled });
  }
  if (body.verdict !== null && kept !== body.verdict) {
    facts.push({
      ...base,
      rule: 'verdict-differs',
      severity: 'major',
      title: `${where}: two verdicts`,
      words: `The reader was shown ${spoken(body.verdict)}; worked out again it is ${spoken(kept)}.`,
      settled,
    });
  }
  return [...facts, ...instrumentFacts(view, reading, where, settled), ...lateFacts(anyKind(reading), base, where)];
}

/** The core was changed for another, and that one has been measured. */
function isOfCoreMeasuredAgain(view: View, reading: Kept<'reading'>): boolean {
  const { operation, characteristic, station } = reading.body;
  if (!isOfCoreTakenOut(view, reading)) return false;
  return stationState(view, `station/${operation}/${characteristic}/${station}`).current.length > 0;
}

/** The bad verdicts that a reading had by the plan that it was read under and by those in force since, and no longer has. */
function judgedBefore(view: View, reading: Kept<'reading'>, now: Verdict | null): Set<Verdict> {
  const { body } = reading;
  if (!isRejudged(view, reading) && view.plans.size === 1) return new Set();
  const read = view.line.findIndex((r) => r.hash === body.plan);
  const since = read < 0 ? [] : view.line.slice(read + 1);
  const { characteristic, operation, station, value, standardUncertainty } = body;
  const by = since.map(({ plan }) => {
    const { lower, upper } = limitsAt(plan, characteristic, operation, station);
    return view.judge?.verdict(value, standardUncertainty, lower, upper) ?? null;
  });
  return new Set([body.verdict, ...by].filter((v): v is Verdict => v !== null && v !== 'within' && v !== now));
}

/** Which plan a reading is judged by, where its reader was shown other limits. */
function rejudgedWords(view: View, reading: Kept<'reading'>): string {
  if (!isRejudged(view, reading)) return '';
  const { body } = reading;
  const read = view.plans.get(body.plan)?.revision;
  return ` It was read under ${read ? `plan revision ${read}` : 'another plan revision'}, by which it was ${spoken(body.verdict)}; the limits have changed since.`;
}

/**
 * What is found at a hold point's evidence after its release, in knowledge of it, does not put the release in doubt: it
 * stands against what follows, and so it blocks the hold point after that.
 */
function blocksNext(view: View, operation: string, causes: readonly string[]): string | null {
  const { holds } = view.plan;
  const last = holds.findLastIndex((hold) => {
    if (!operationsOf(hold).includes(operation)) return false;
    const { outcome, set } = signedOf(view, hold);
    return outcome === 'released' && causes.some((hash) => !set![0]!.release.body.evidence.includes(hash));
  });
  return last < 0 ? null : (holds[last + 1]?.id ?? null);
}

const verdictWords = (verdict: Verdict, where: string): Pick<Fact, 'rule' | 'severity' | 'title' | 'words'> =>
  verdict === 'outside'
    ? { rule: 'outside', severity: 'major', title: `${where}: outside`, words: 'Nonconformity is proven.' }
    : {
        rule: 'not-proven',
        severity: 'minor',
        title: `${where}: not proven`,
        words: 'It lies inside the uncertainty of its limit. Measure it again, better, or agree a concession.',
      };

export const spoken = (verdict: Verdict | null): string =>
  verdict === null ? 'without verdict' : verdict === 'not-proven' ? 'not proven' : verdict;

function instrumentFacts(view: View, reading: Kept<'reading'>, where: string, settled: boolean): Fact[] {
  const id = reading.body.instrument;
  if (wasCalibrated(view, reading.body, reading.entry)) return [];
  return [
    {
      ...about(reading),
      rule: 'instrument-out',
      subject: [reading.hash],
      severity: 'major',
      title: `${where}: ${id} was out of calibration`,
      words:
        'The reading is kept and does not count for a hold point until a calibration shows that the instrument was right.',
      causes: [reading.hash],
      settled,
    },
  ];
}

/** The finding that an entry was written too long after it was seen. */
export function lateFacts(
  kept: Kept,
  base: Pick<Fact, 'operation' | 'subject' | 'causes' | 'blocks'>,
  where: string,
): Fact[] {
  const late_ms = lateBy(kept.entry);
  if (late_ms <= LATE_MS) return [];
  const hours = Math.floor(late_ms / 3_600_000);
  return [
    {
      ...base,
      rule: 'late',
      severity: 'minor',
      title: `${where}: written ${hours} h late`,
      words: 'Accept it with a reason.',
      settled: false,
    },
  ];
}

function sheetFacts(view: View, operation: string): Fact[] {
  const checks = view.plan.operations.find((o) => o.id === operation)?.checks ?? [];
  return sheetState(view, operation).noes.map((item) => ({
    rule: 'answered-no',
    subject: [operation, item.item],
    operation,
    severity: 'major',
    blocks: null,
    title: `Answered no: ${checks.find((c) => c.id === item.item)?.text ?? item.item}`,
    words: item.words ?? 'No words were given.',
    causes: item.by ? [item.by.hash] : [],
    settled: false,
  }));
}

/** Work recorded behind a hold point that was not released at the time. */
function passedHolds(view: View, operation: string): Fact[] {
  return view.plan.holds
    .filter((hold) => hold.before.includes(operation))
    .flatMap((hold): Fact[] => {
      // Asked anew for each entry: what is kept of a scope must know that it rests on the releases.
      const past = workThat(view, operation, `past ${hold.id}/${view.judge !== null}`, (entry) => {
        const { set, fallen } = signedOf(view, hold);
        return ![...fallen, ...(set ? [set] : [])].some((signed) => stoodBefore(view, signed, entry));
      });
      if (past.length === 0) return [];
      return [
        {
          rule: 'passed-unreleased',
          subject: [operation, hold.id],
          operation,
          severity: 'major',
          blocks: lastHold(view),
          title: `Worked past ${hold.id} in operation ${operation}`,
          words: `${past.length} ${past.length === 1 ? 'entry was' : 'entries were'} made before ${hold.id} was released; all are kept. What its signature says: ${hold.meaning.replace(/\.$/, '')}.`,
          causes: past.map((e) => e.hash),
          settled: false,
        },
      ];
    });
}

/** What was let pass on the way is settled at the latest before the blank is released. */
export const lastHold = (view: View): string | null => view.plan.holds.at(-1)?.id ?? null;

function handFacts(view: View, operation: string): Fact[] {
  return live(view, `finding/${operation}`, 'finding').map(({ body, hash }) => ({
    rule: 'by-hand',
    subject: [hash],
    operation,
    ...(body.characteristic ? { characteristic: body.characteristic } : {}),
    ...(body.station ? { station: body.station } : {}),
    severity: body.severity,
    blocks: body.blocks,
    ...(body.owner ? { owner: body.owner } : {}),
    title: body.title,
    words: body.words ?? '',
    causes: [hash, ...(body.about ?? [])],
    settled: false,
  }));
}

/** Values worked out from several readings, e.g. flatness or total runout, that lie outside or are not proven. */
function derivedFacts(view: View, operation: string): Fact[] {
  const planned = view.plan.operations.find((o) => o.id === operation)!;
  return planned.measures.flatMap((id) => {
    const characteristic = characteristicById(view.plan, id);
    if (!characteristic || !view.judge) return [];
    const range = view.judge.range(view, id, operation);
    const derived = characteristic.kind === 'derived' ? view.judge.derive(view, id, operation) : null;
    return [...(derived ?? []), ...(range ? [range] : [])].flatMap((d) =>
      derivedFact(view, characteristic, operation, d),
    );
  });
}

function derivedFact(view: View, { id, name }: Characteristic, operation: string, d: DerivedValue): Fact[] {
  if (d.verdict !== 'outside' && d.verdict !== 'not-proven') return [];
  const where =
    d.station === 'one'
      ? name
      : d.station === RANGE
        ? `${name}, range`
        : `${name}, ${stationLabel(view, id, d.station)}`;
  return [
    {
      ...verdictWords(d.verdict, where),
      rule: 'derived-outside',
      subject: [operation, id, d.station],
      operation,
      characteristic: id,
      station: d.station,
      blocks: blocksNext(view, operation, d.causes),
      causes: d.causes,
      settled: false,
    },
  ];
}

function judged(view: View, fact: Fact): Finding {
  const id = findingId(fact.rule, fact.subject);
  const accepted = acceptedDispositions(view, fact.operation, id);
  const lacking = accepted.flatMap((disposition) => {
    const why = lacks(disposition);
    return why === null ? [] : [{ disposition, why }];
  });
  const said = lacking.length === 0 ? accepted : accepted.filter((d) => lacks(d) === null);
  return { ...fact, id, dispositions: said, lacking, state: stateOf(view, fact, id, said) };
}

/** The dispositions of a finding that were accepted by somebody with the authority, who did not propose them. */
function acceptedDispositions(view: View, operation: string, id: string): Kept<'disposition'>[] {
  return live(view, `disposition/${operation}`, 'disposition')
    .filter(({ body, entry }) => body.finding === id && accepts(body, entry.by))
    .sort(byTime);
}

const accepts = (body: Body<'disposition'>, by: string): boolean =>
  body.proposedBy !== by && authority[body.decision].includes(body.role);

const lacks = ({ body, entry }: Kept<'disposition'>): string | null =>
  body.decision === 'concession' ? concessionLacks(body, entry.recordedAt) : null;

function stateOf(view: View, fact: Fact, id: string, said: readonly Kept<'disposition'>[]): FindingState {
  const closed = live(view, `disposition/${fact.operation}`, 'closure').some(
    (c) => c.body.finding === id && c.body.role === 'quality',
  );
  if (fact.settled || closed) return 'closed';
  // What turned up after a decision was not decided on.
  const valid = said.filter((d) => fact.causes.every((hash) => hash === d.hash || coversCause(view, d, hash)));
  const last = valid.at(-1)?.body.decision;
  if (last === 'concession' || last === 'regrade') return 'accepted';
  return last === undefined ? 'open' : 'in work';
}

function coversCause(view: View, disposition: Kept<'disposition'>, hash: string): boolean {
  const cause = view.log.get(hash);
  return cause === undefined || view.standing.knowledge.covers(anyKind(disposition), cause);
}
