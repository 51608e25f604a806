import { spinCheck } from '../calculations/spin-check.ts';
import type { Kept } from '../logbook/log.ts';
import { channelsOf } from '../logbook/state/channels.ts';
import { type Finding, findingsOf } from '../logbook/state/findings.ts';
import { stationStates } from '../logbook/state/readings.ts';
import { type Heat, heatOf } from '../logbook/state/rounds.ts';
import { type Sample, samplesOf } from '../logbook/state/samples.ts';
import type { View } from '../logbook/state/view.ts';
import { characteristicById, limitsFor } from '../plan/lookup.ts';
import type { AlarmWatch, HeatPlan, Plan } from '../plan/schema.ts';
import { channelsIn, type WorkedBy } from './heat-figures.ts';

const HOUR_MS = 3_600_000;
export const SPIN_RATE = 'spin-rate';
/** Readings further apart say nothing of the time between. */
const MOST_BETWEEN_MS = 6 * HOUR_MS;
/** A change is one within an hour; readings an hour apart are seldom so to the minute. */
const CHANGE_MS = 1.1 * HOUR_MS;

/** One rate of the table: timed by hand, or from the encoder in a round. */
export interface SpinPoint {
  readonly at_ms: number;
  readonly rpm: number;
  readonly by: 'hand' | 'encoder';
  readonly within: boolean;
  /** The reading, where one was timed. */
  readonly reading: Kept<'reading'> | null;
}

export interface SpinNow {
  readonly operation: string;
  readonly nominal: number | null;
  readonly lower: number;
  readonly upper: number;
  /** Oldest first. */
  readonly points: readonly SpinPoint[];
  readonly last: SpinPoint | null;
  /** Elapsed hours between readings that were both within. */
  readonly hoursAtRate: number;
  /** Elapsed hours between readings of which one was outside, while glass was fluid. */
  readonly hoursOutside: number;
  /** Hottest glass of the newest round, °C; null before one. */
  readonly hottest_C: number | null;
  /** Above this the glass follows the rotation. */
  readonly fluidAbove_C: number;
  readonly radius: SpinRadius | null;
  /** Last timed rate less the first of the hour before it; null where only one was timed. */
  readonly change_rpm: number | null;
  readonly changeLimit_rpm: number | null;
  readonly findings: readonly Finding[];
}

/** What a rate makes of the blank, at 20 °C. */
export interface SpinRadius {
  readonly radius_m: number;
  /** Standard uncertainty that the rate brings. */
  readonly u_m: number;
  readonly wanted_m: number;
  readonly tolerance_m: number;
  readonly worked: WorkedBy;
}

/** The operations of a heat in which the rate is timed, in their order. */
export const spinOperations = (plan: Plan, heat: HeatPlan): string[] =>
  heat.operations.filter((o) => characteristicById(plan, SPIN_RATE)?.operations.includes(o));

type SpinWatch = Extract<AlarmWatch, { on: 'spin' }>;

/** The rate of the table through a heat; null for heats in which the table need not keep one. */
export const spinNow = (view: View, heat: Heat, operation: string): SpinNow | null =>
  view.memo.get(`spin/${heat.plan.id}/${operation}/${view.judge !== null}`, () =>
    // Asked of the view again, so that this is taken back with the next round.
    workedOut(view, heatOf(view, heat.plan) ?? heat, operation),
  );

function workedOut(view: View, heat: Heat, operation: string): SpinNow | null {
  const { plan } = view;
  const characteristic = characteristicById(plan, SPIN_RATE);
  const limits = characteristic && limitsFor(characteristic, operation);
  const watch = plan.alarms.map((a) => a.watch).find((w): w is SpinWatch => w?.on === 'spin');
  if (!characteristic || !limits || limits.lower === null || limits.upper === null) return null;
  const { lower, upper, nominal } = limits;
  const points = pointsOf(view, heat, watch?.rateGroup ?? 'SR', (rpm) => rpm >= lower && rpm <= upper);
  const last = lastOf(points);
  const fluidAbove_C = watch?.above_C ?? Number.NEGATIVE_INFINITY;
  const glass = glassSamples(view, heat, watch?.groups ?? []);
  return {
    operation,
    nominal,
    lower,
    upper,
    points,
    last,
    ...hoursOf(points, glass, fluidAbove_C),
    hottest_C: hottestAt(glass, last?.at_ms ?? Number.POSITIVE_INFINITY),
    fluidAbove_C,
    radius:
      last && last.rpm > 0 ? radiusOf(plan, limits.derivation?.input, last.rpm, characteristic.uncertainty ?? 0) : null,
    change_rpm: changeOf(points),
    changeLimit_rpm: characteristicById(plan, 'spin-rate-change')?.limits[0]?.upper ?? null,
    findings: spinOperations(plan, heat.plan).flatMap((o) =>
      findingsOf(view, o).filter((f) => f.characteristic === SPIN_RATE && f.state !== 'closed'),
    ),
  };
}

/** A rate timed by hand says most; the encoder's few digits count where they are newer and outside, or alone. */
function lastOf(points: readonly SpinPoint[]): SpinPoint | null {
  const newest = points.at(-1);
  const timed = points.findLast((p) => p.by === 'hand');
  if (!newest || !timed || !newest.within || newest.at_ms - timed.at_ms > MOST_BETWEEN_MS) return newest ?? null;
  return timed;
}

function pointsOf(view: View, heat: Heat, encoder: string, within: (rpm: number) => boolean): SpinPoint[] {
  const timed = spinOperations(view.plan, heat.plan)
    .flatMap((o) => [...stationStates(view, o, SPIN_RATE).values()].flatMap((s) => s.current))
    .map((reading): SpinPoint => {
      const rpm = reading.body.value;
      return { at_ms: Date.parse(reading.entry.observedAt), rpm, by: 'hand', within: within(rpm), reading };
    });
  const shown = channelsOf(view, heat)
    .filter((h) => h.channel.group === encoder)
    .flatMap((h) =>
      h.readings.flatMap(({ at_ms, row }): SpinPoint[] =>
        row.state === 'good' && row.value !== null
          ? [{ at_ms, rpm: row.value, by: 'encoder', within: within(row.value), reading: null }]
          : [],
      ),
    );
  return [...timed, ...shown].sort((a, b) => a.at_ms - b.at_ms);
}

function changeOf(points: readonly SpinPoint[]): number | null {
  const timed = points.filter((p) => p.by === 'hand');
  const last = timed.at(-1);
  const first = last && timed.find((p) => last.at_ms - p.at_ms <= CHANGE_MS);
  return last && first && first !== last ? last.rpm - first.rpm : null;
}

/** Elapsed hours at rate and outside it, from one reading to the next. The run-up to the first within counts for neither. */
function hoursOf(points: readonly SpinPoint[], glass: readonly Sample[], fluidAbove_C: number) {
  let at = 0;
  let outside = 0;
  const first = points.findIndex((p) => p.within);
  points.slice(first + 1).forEach((point, k) => {
    const before = points[first + k]!;
    const between_ms = point.at_ms - before.at_ms;
    if (first === -1 || between_ms > MOST_BETWEEN_MS) return;
    if (point.within && before.within) at += between_ms;
    else if ((hottestAt(glass, before.at_ms) ?? Number.NEGATIVE_INFINITY) > fluidAbove_C) outside += between_ms;
  });
  return { hoursAtRate: at / HOUR_MS, hoursOutside: outside / HOUR_MS };
}

const glassSamples = (view: View, heat: Heat, groups: readonly string[]): Sample[] => {
  const glass = channelsIn(view, heat, groups);
  return samplesOf(view, heat).filter((s) => glass.has(s.channel));
};

/** The hottest glass of the newest round up to an instant. */
function hottestAt(glass: readonly Sample[], at_ms: number): number | null {
  const last = glass.findLast((s) => s.t_ms <= at_ms);
  if (!last) return null;
  return Math.max(...glass.filter((s) => s.t_ms === last.t_ms).map((s) => s.celsius));
}

function radiusOf(
  { design }: Plan,
  derivation: Readonly<Record<string, unknown>> | undefined,
  rotation_rate_rpm: number,
  u_rpm: number,
): SpinRadius | null {
  const g_m_s2 = derivation?.g_m_s2;
  if (typeof g_m_s2 !== 'number') return null;
  const input = {
    rotation_rate_rpm,
    g_m_s2,
    glass_expansion_per_K: design.glass_expansion_per_K,
    set_temperature_C: design.set_temperature_C,
  };
  const { radius_of_curvature_m } = spinCheck.compute(input);
  return {
    radius_m: radius_of_curvature_m,
    // R goes with the inverse square of the rate.
    u_m: (2 * radius_of_curvature_m * u_rpm) / rotation_rate_rpm,
    wanted_m: design.radius_of_curvature_m,
    tolerance_m: design.radius_tolerance_m,
    worked: { calculation: spinCheck.name, input },
  };
}
