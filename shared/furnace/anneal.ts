import { given, type WorkingLine } from '../calculations/calculation.ts';
import { conformity } from '../calculations/conformity.ts';
import { coolingStress } from '../calculations/cooling-stress.ts';
import { viscoelasticSlab } from '../calculations/viscoelastic-slab.ts';
import type { Verdict } from '../logbook/kinds.ts';
import { baselineOf } from '../logbook/state/baseline.ts';
import { type Heat, heatOf } from '../logbook/state/rounds.ts';
import {
  allSamplesOf,
  instantsOf,
  type Logged,
  latestOf,
  mean,
  type Sample,
  steadyMean,
} from '../logbook/state/samples.ts';
import type { View } from '../logbook/state/view.ts';
import { viscosityPoints } from '../plan/hall-data.ts';
import { limitsAt } from '../plan/lookup.ts';
import type { AlarmWatch, HeatPlan, Plan } from '../plan/schema.ts';
import { figureOf } from './figure-of.ts';
import { channelsIn, type RateNow, rateOverWindow, type WorkedBy } from './heat-figures.ts';

const HOUR_MS = 3_600_000;
/** The rate that the limit is meant for is fitted over a day. */
const WINDOW_H = 24;
const FACES = ['FC', 'BP'];
/** More points of the face tell a slab nothing: its time constant is hours. */
const MOST_POINTS = 1500;

/** A figure with its limit and verdict. */
export interface Judged {
  readonly value: number;
  readonly limit: number;
  readonly standardUncertainty: number;
  readonly verdict: Verdict;
}

/** Middle of the glass less face and back over and under it. */
export interface Through {
  readonly channel: string;
  readonly difference_K: number;
  readonly baseline_K: number | null;
  readonly limit_K: number | null;
  readonly verdict: Verdict | null;
  readonly formula: string;
}

export interface AnnealNow {
  /** Of the glass, as the rate counts: mean of face, middle and back. */
  readonly glass_C: number;
  readonly rate: RateNow;
  /** Cooling is positive; null above the range, where the glass relaxes faster than it is cooled. */
  readonly cooling: Judged | null;
  readonly limitWords: string;
  readonly through: readonly Through[];
  readonly halfThickness_mm: number;
  /** Which thickness that is, in words. */
  readonly thicknessWords: string;
  readonly closed: ReturnType<typeof coolingStress.compute>;
  readonly closedBy: WorkedBy;
  /** Null while fewer than two readings of the faces are there. */
  readonly slab: ReturnType<typeof viscoelasticSlab.compute> | null;
  readonly slabBy: WorkedBy | null;
  /** Where the slab's record begins, and of which channels. */
  readonly slabLines: readonly WorkingLine[];
  readonly permitted: { readonly permanent_MPa: number; readonly temporary_MPa: number };
}

/** Whether a heat is one in which the glass sets or has set: the plan limits its rate. */
export const isAnneal = (plan: Plan, heat: HeatPlan): boolean => rateCharacteristic(plan, heat) !== undefined;

const rateCharacteristic = (plan: Plan, heat: HeatPlan) =>
  plan.characteristics.find(
    (c) =>
      c.derivedFrom?.calculation === 'rate' &&
      c.unit === 'K/h' &&
      c.operations.some((o) => heat.operations.includes(o)),
  );

/**
 * Rate, differences and stresses of the glass in the anneal or the cool-down; null before there is enough to work from.
 * @param samples of this heat
 * @param logged what loggers recorded of this heat and of those before it, for the slab
 */
export function annealNow(
  view: View,
  heat: Heat,
  samples: readonly Sample[],
  now_ms: number,
  logged: Logged | null = null,
): AnnealNow | null {
  const { plan } = view;
  if (!isAnneal(plan, heat.plan)) return null;
  const rate = rateOverWindow(samples, channelsIn(view, heat, heat.plan.control), now_ms, WINDOW_H);
  const last = rate?.worked.input.readings as { temperature_C: number }[] | undefined;
  if (!rate || !last) return null;
  const glass_C = last.at(-1)!.temperature_C;
  const slab = slabOf(plan);
  const closedInput = {
    rate_K_h: Math.max(0, -rate.rate_K_h),
    ...slab,
    stress_optic_per_TPa: plan.design.stress_optic_per_TPa,
  };
  const run = slabRun(view, heat, logged);
  return {
    glass_C,
    rate,
    ...coolingOf(plan, heat.plan, rate, glass_C),
    through: throughOf(view, heat, samples, now_ms),
    halfThickness_mm: slab.half_thickness_mm,
    thicknessWords: `half of the ${(2 * slab.half_thickness_mm).toFixed(0)} mm edge: the cores stay in, so the whole blank cools as one slab, not the face of ${plan.design.face_thickness_mm} mm`,
    closed: coolingStress.compute(closedInput),
    closedBy: { calculation: coolingStress.name, input: closedInput },
    ...run,
    permitted: { permanent_MPa: plan.design.permanent_stress_MPa, temporary_MPa: plan.design.temporary_stress_MPa },
  };
}

/** The slab that the blank cools as. */
export function slabOf({ design, derived }: Plan) {
  return {
    half_thickness_mm: derived.find((d) => d.id === 'half-thickness')!.value,
    diffusivity_mm2_s: design.diffusivity_mm2_s,
    modulus_GPa: design.modulus_GPa,
    poisson: design.poisson,
    expansion_per_K: design.glass_expansion_per_K,
  };
}

type CoolingWatch = Extract<AlarmWatch, { on: 'cooling' }>;

/** The rate against the limit of the range in which the glass is. */
function coolingOf(
  plan: Plan,
  heat: HeatPlan,
  { rate_K_h, standardError_K_h }: RateNow,
  glass_C: number,
): Pick<AnnealNow, 'cooling' | 'limitWords'> {
  const watch = plan.alarms.map((a) => a.watch).find((w): w is CoolingWatch => w?.on === 'cooling');
  const range = watch?.ranges.find((r) => glass_C <= r.from_C && glass_C > (r.to_C ?? Number.NEGATIVE_INFINITY));
  const top_C = watch?.ranges[0]?.from_C;
  if (!range) {
    const where = top_C === undefined ? 'here' : `above ${top_C} °C`;
    return { cooling: null, limitWords: `No limit ${where}: the glass still relaxes faster than it is cooled.` };
  }
  // What the wires drift in a day stands with the plan; the scatter of the readings comes to it.
  const drift = rateCharacteristic(plan, heat)?.uncertainty ?? 0;
  const standardUncertainty = Math.hypot(drift, standardError_K_h ?? 0);
  const value = -rate_K_h;
  const { verdict } = conformity.compute({
    value,
    standard_uncertainty: standardUncertainty,
    upper_limit: range.most_K_h,
  });
  return {
    cooling: { value, limit: range.most_K_h, standardUncertainty, verdict },
    limitWords:
      range.to_C === undefined
        ? `Below ${range.from_C} °C: set by the passing tension at the surface.`
        : `${range.from_C} to ${range.to_C} °C: set by the tension that stays at the centre.`,
  };
}

function throughOf(view: View, heat: Heat, samples: readonly Sample[], now_ms: number): Through[] {
  const { plan } = view;
  const characteristic = plan.characteristics.find((c) => c.id === 'through-difference');
  const operation = heat.plan.operations.find((o) => characteristic?.operations.includes(o));
  const every_h = Math.max(1, ...heat.plan.segments.flatMap((s) => s.rounds.map((r) => r.every_h)));
  const now = latestOf(samples, now_ms, 1.1 * every_h * HOUR_MS);
  return plan.channels.flatMap(({ id, group, across = [] }) => {
    const middle = now.get(id);
    const around = across.flatMap((other) => now.get(other) ?? []);
    if (group !== 'MC' || middle === undefined || around.length === 0 || around.length < across.length) return [];
    const baseline_K = baselineOf(view, id);
    const difference_K = middle - mean(around) - (baseline_K ?? 0);
    const limit_K = operation ? limitsAt(plan, 'through-difference', operation, id).upper : null;
    return [
      {
        channel: id,
        difference_K,
        baseline_K,
        limit_K,
        verdict:
          limit_K === null
            ? null
            : conformity.compute({
                value: difference_K,
                standard_uncertainty: characteristic?.uncertainty ?? 0,
                upper_limit: limit_K,
              }).verdict,
        formula: `${middle.toFixed(1)} − mean of ${across.join(', ')} ${mean(around).toFixed(2)}${baseline_K === null ? '; no baseline is recorded' : ` − baseline ${figureOf(baseline_K, 2)}`}`,
      },
    ];
  });
}

/** The heats of the anneal up to this one, in their order: the glass cools on from one into the next. */
export function annealHeats(view: View, heat: Heat): Heat[] {
  const before = view.plan.heatPlans.slice(0, view.plan.heatPlans.indexOf(heat.plan));
  return [...before.filter((p) => isAnneal(view.plan, p)).flatMap((p) => heatOf(view, p) ?? []), heat];
}

/** The slab run through the whole record of the faces; kept until the next round. */
function slabRun(view: View, heat: Heat, logged: Logged | null): Pick<AnnealNow, 'slab' | 'slabBy' | 'slabLines'> {
  return view.memo.get(`slab/${heat.plan.id}/${logged?.name ?? ''}`, () => {
    const heats = annealHeats(view, heatOf(view, heat.plan) ?? heat);
    const samples = heats.flatMap((h) => allSamplesOf(view, h, logged));
    const { channels, points } = steadyMean(instantsOf(samples), channelsIn(view, heat, FACES));
    const first = points[0];
    if (!first || points.length < 2) return { slab: null, slabBy: null, slabLines: [] };
    const record = thinned(points).map((p) => ({ at_h: (p.t_ms - first.t_ms) / HOUR_MS, surface_C: p.celsius }));
    const input = {
      ...slabOf(view.plan),
      points: viscosityPoints.map((p) => ({ ...p })),
      record,
      layers: 20,
      stress_optic_per_TPa: view.plan.design.stress_optic_per_TPa,
    };
    return {
      slab: viscoelasticSlab.compute(input),
      slabBy: { calculation: viscoelasticSlab.name, input },
      slabLines: [
        given('heats', 'that the record runs through', heats.map((h) => h.plan.id).join(', '), '', 'log'),
        given('faces', 'mean of the channels that were read all along', channels.join(', '), '', 'log'),
        given('n', 'readings', points.length, '–', 'log'),
        given('T_1', 'even and free of stress at', Number(first.celsius.toFixed(2)), '°C', 'first reading of the soak'),
      ],
    };
  });
}

/** Means of as many neighbours as leave no more points than a slab can use; the last point stays as it is. */
function thinned(points: readonly { t_ms: number; celsius: number }[]): { t_ms: number; celsius: number }[] {
  const each = Math.ceil(points.length / MOST_POINTS);
  if (each === 1) return [...points];
  const binned: { t_ms: number; celsius: number }[] = [];
  for (let k = 0; k + 1 < points.length; k += each) {
    const bin = points.slice(k, Math.min(k + each, points.length - 1));
    binned.push({ t_ms: mean(bin.map((p) => p.t_ms)), celsius: mean(bin.map((p) => p.celsius)) });
  }
  return [...binned, points.at(-1)!];
}
