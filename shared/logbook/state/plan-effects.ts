import { characteristicById } from '../../plan/lookup.ts';
import { sameJson } from '../../plan/same-json.ts';
import type { Characteristic, Hold, Plan } from '../../plan/schema.ts';
import type { Verdict } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { RANGE } from './derived-value.ts';
import { type Finding, findings, stationLabel } from './findings.ts';
import { conditionsNow, holdState } from './holds.ts';
import { limitsOf, sameLimits, stationStates, verdictOf } from './readings.ts';
import { allByItsPlan, type View, viewWith } from './view.ts';

type LimitsOf = ReturnType<typeof limitsOf>;

/** A value that other limits would judge: a reading, or one worked out from readings. */
export interface Rejudged {
  readonly operation: string;
  readonly characteristic: string;
  readonly name: string;
  /** Where it was read, in words; empty for a single value. */
  readonly place: string;
  /** The reading's hash; null for a value worked out. */
  readonly reading: string | null;
  readonly value: number;
  readonly unit: string;
  readonly decimals: number;
  readonly limits: { readonly before: LimitsOf; readonly after: LimitsOf };
  readonly verdict: { readonly before: Verdict | null; readonly after: Verdict | null };
}

/** A hold point that a plan would not let pass as it stands. */
export interface HoldEffect {
  readonly hold: Hold;
  /** The revision that it was released under, by its name; null where it is not released. */
  readonly releasedUnder: string | null;
  /** What it would fail for, in words. */
  readonly why: readonly string[];
  /** The values that it would fail for. */
  readonly values: readonly Rejudged[];
}

/** What a plan would do to the log as it stands. */
export interface PlanEffects {
  /** Open work whose verdict changes. */
  readonly rejudged: readonly Rejudged[];
  /** How many values of open work get other limits and keep their verdict. */
  readonly sameVerdict: number;
  /** Released hold points that would not pass by it; they stay released under their own revision. */
  readonly wouldFail: readonly HoldEffect[];
  /** Hold points not released yet that would lack something that they have now. */
  readonly heldUp: readonly HoldEffect[];
  /** Findings that would be opened and closed, beside those of the verdicts above. */
  readonly opened: readonly Finding[];
  readonly closed: readonly Finding[];
}

/** What a plan would do if it came into force at an instant; nothing is written. */
export function planEffects(view: View, plan: Plan, at_ms: number): PlanEffects {
  const next = viewWith(view, plan, at_ms);
  const strict = allByItsPlan(next);
  const changed = changedLimits(view.plan, plan);
  const open = changed
    .flatMap((c) => valuesOf(view, next, c))
    .filter((v) => !sameLimits(v.limits.before, v.limits.after));
  const rejudged = open.filter((v) => v.verdict.before !== v.verdict.after);
  const all = changed.flatMap((c) => valuesOf(view, strict, c));
  const holds = view.plan.holds
    .map((hold) => holdEffect(view, next, strict, hold, all))
    .filter((h) => h.why.length > 0);
  return {
    rejudged,
    sameVerdict: open.length - rejudged.length,
    wouldFail: holds.filter((h) => h.releasedUnder !== null),
    heldUp: holds.filter((h) => h.releasedUnder === null),
    ...findingEffects(view, next),
  };
}

/**
 * Released hold points that were signed under another revision than the one in force and would fail by this one. They
 * stay released.
 */
export function releasedOtherwise(view: View): HoldEffect[] {
  const strict = allByItsPlan(view);
  const all = view.line
    .slice(0, -1)
    .flatMap(({ plan }) => changedLimits(plan, view.plan))
    .filter((c, i, list) => list.findIndex((o) => o.id === c.id) === i)
    .flatMap((c) => valuesOf(view, strict, c));
  return view.plan.holds
    .filter((hold) => {
      const { signedUnder } = holdState(view, hold);
      return signedUnder !== null && signedUnder !== view.planHash;
    })
    .map((hold) => holdEffect(view, strict, strict, hold, all));
}

/** The characteristics whose values two plans judge by other limits, as the later plan has them. */
const changedLimits = (before: Plan, after: Plan): readonly Characteristic[] =>
  after.characteristics.filter((c) => {
    const was = characteristicById(before, c.id);
    return was !== undefined && !(sameJson(was.limits, c.limits) && sameJson(was.uncertainty, c.uncertainty));
  });

/** Every value of a characteristic, by the limits of now and of another view of the same log. */
function valuesOf(view: View, other: View, characteristic: Characteristic): Rejudged[] {
  const { id, name, unit, decimals, operations } = characteristic;
  const one = { characteristic: id, name, unit, decimals };
  return operations.flatMap((operation) => [
    ...[...stationStates(view, operation, id).values()].flatMap(({ current }) =>
      current.map((r): Rejudged => ({ ...one, operation, ...ofReading(view, other, r) })),
    ),
    ...workedOut(view, other, characteristic, operation).map((v): Rejudged => ({ ...one, operation, ...v })),
  ]);
}

type OneValue = Pick<Rejudged, 'place' | 'reading' | 'value' | 'limits' | 'verdict'>;

function ofReading(view: View, other: View, reading: Kept<'reading'>): OneValue {
  const { characteristic, station, value } = reading.body;
  return {
    place: station === 'one' ? '' : stationLabel(view, characteristic, station),
    reading: reading.hash,
    value,
    limits: { before: limitsOf(view, reading), after: limitsOf(other, reading) },
    verdict: { before: verdictOf(view, reading), after: verdictOf(other, reading) },
  };
}

/** Values worked out from readings, and the range over all stations. */
function workedOut(view: View, other: View, { id, kind }: Characteristic, operation: string): OneValue[] {
  const of = (v: View) => {
    const range = v.judge?.range(v, id, operation);
    return [...((kind === 'derived' && v.judge?.derive(v, id, operation)) || []), ...(range ? [range] : [])];
  };
  const after = new Map(of(other).map((d) => [d.station, d]));
  return of(view).flatMap((d): OneValue[] => {
    const then = after.get(d.station);
    if (!then) return [];
    const place =
      d.station === RANGE ? 'range over all stations' : d.station === 'one' ? '' : stationLabel(view, id, d.station);
    return [
      {
        place,
        reading: null,
        value: d.value,
        limits: { before: d.limits, after: then.limits },
        verdict: { before: d.verdict, after: then.verdict },
      },
    ];
  });
}

/** What a hold point would lack by another plan that it does not lack now. */
function holdEffect(view: View, next: View, strict: View, hold: Hold, values: readonly Rejudged[]): HoldEffect {
  const state = holdState(view, hold);
  const released = state.signedUnder !== null;
  const releasedUnder = released ? (view.plans.get(state.signedUnder)?.revision ?? '') : null;
  const effect = { hold, releasedUnder, values: [] };
  const planned = next.plan.holds.find((h) => h.id === hold.id);
  if (!planned) return { ...effect, why: ['The revision has no such hold point.'] };
  const met = new Set(state.conditions.filter((c) => c.met).map((c) => c.id));
  const known = new Set(state.conditions.map((c) => c.id));
  const lacking = conditionsNow(released ? strict : next, planned).filter(
    (c) => !c.met && (met.has(c.id) || !known.has(c.id)),
  );
  const roles = released
    ? planned.roles.filter((role) => !state.signatures.some((s) => s.release.body.role === role))
    : [];
  return {
    ...effect,
    why: [
      ...lacking.map((c) => `${c.title}: ${c.words}`),
      ...roles.map((role) => `It would ask for a signature of ${role.replace('-', ' ')} too.`),
    ],
    values: values.filter(
      (v) =>
        lacking.some((c) => c.id === `characteristic/${v.operation}/${v.characteristic}`) && isBad(v.verdict.after),
    ),
  };
}

const isBad = (verdict: Verdict | null): boolean => verdict === 'outside' || verdict === 'not-proven';

/** The rules of the verdicts: what they would find is told value by value. */
const OF_VERDICTS: ReadonlySet<string> = new Set(['outside', 'not-proven', 'derived-outside']);

function findingEffects(view: View, next: View): Pick<PlanEffects, 'opened' | 'closed'> {
  const isOpen = (f: Finding) => f.state !== 'closed' && !OF_VERDICTS.has(f.rule);
  const now = findings(view).filter(isOpen);
  const then = findings(next).filter(isOpen);
  const lacks = (list: readonly Finding[]) => (f: Finding) => !list.some((o) => o.id === f.id);
  return { opened: then.filter(lacks(now)), closed: now.filter(lacks(then)) };
}
