import { coolingStress } from '../calculations/cooling-stress.ts';
import { segmentEnds } from '../logbook/state/heat.ts';
import type { AlarmWatch, HeatPlan, Plan } from '../plan/schema.ts';
import { slabOf } from './anneal.ts';

/** What the rate of one segment does to the glass. */
export interface SegmentStress {
  readonly from_C: number;
  readonly to_C: number;
  /** Elapsed hours at which it begins and ends. */
  readonly begins_h: number;
  readonly ends_h: number;
  /** Rising is positive; 0 in a soak. */
  readonly rate_K_h: number;
  /**
   * `no-glass`: none is in the furnace. `still`: a soak, or a rise. `relaxes`: it cools above the range in which the
   * glass sets. `sets`: it cools through that range, and stress stays. `set`: below it, and stress passes with the rate.
   */
  readonly does: 'no-glass' | 'still' | 'relaxes' | 'sets' | 'set';
  /** The least of the plan's permitted rates on its way, K/h. */
  readonly permitted_K_h: number | null;
  readonly stress: ReturnType<typeof coolingStress.compute> | null;
  readonly input: Parameters<typeof coolingStress.compute>[0] | null;
}

type CoolingWatch = Extract<AlarmWatch, { on: 'cooling' }>;

/** The stress that each segment's rate implies, by `cooling-stress`, with the slab that the blank cools as. */
export function planStress(plan: Plan, heat: HeatPlan): SegmentStress[] {
  const ends = segmentEnds(heat);
  const glass = holdsGlass(plan, heat);
  return heat.segments.map((segment, i) => {
    const from_C = i === 0 ? heat.start_C : heat.segments[i - 1]!.to_C;
    const { to_C, rate_K_h, soak_h } = segment;
    const rate = soak_h !== undefined ? 0 : to_C < from_C ? -rate_K_h! : rate_K_h!;
    const base = { from_C, to_C, begins_h: i === 0 ? 0 : ends[i - 1]!, ends_h: ends[i]!, rate_K_h: rate };
    return { ...base, ...whatItDoes(plan, glass, base) };
  });
}

/** Glass comes in with the operation that weighs its blocks; a plan without one holds glass in every heat. */
function holdsGlass(plan: Plan, heat: HeatPlan): boolean {
  const order = (id: string | undefined) => plan.operations.findIndex((o) => o.id === id);
  const comesIn = plan.operations.find((o) => o.measures.includes('block-mass'))?.id;
  return comesIn === undefined || order(heat.operations[0]) > order(comesIn);
}

type Way = Pick<SegmentStress, 'from_C' | 'to_C' | 'rate_K_h'>;

function whatItDoes(plan: Plan, glass: boolean, { from_C, to_C, rate_K_h }: Way) {
  const nothing = { permitted_K_h: null, stress: null, input: null };
  if (!glass) return { does: 'no-glass', ...nothing } as const;
  if (rate_K_h >= 0) return { does: 'still', ...nothing } as const;
  const ranges = plan.alarms.map((a) => a.watch).find((w): w is CoolingWatch => w?.on === 'cooling')?.ranges ?? [];
  const met = ranges.filter((r) => to_C < r.from_C && from_C > (r.to_C ?? Number.NEGATIVE_INFINITY));
  if (ranges.length > 0 && met.length === 0) return { does: 'relaxes', ...nothing } as const;
  const input = {
    rate_K_h: -rate_K_h,
    ...slabOf(plan),
    stress_optic_per_TPa: plan.design.stress_optic_per_TPa,
  };
  return {
    does: met.includes(ranges[0]!) ? ('sets' as const) : ('set' as const),
    permitted_K_h: met.length === 0 ? null : Math.min(...met.map((r) => r.most_K_h)),
    stress: coolingStress.compute(input),
    input,
  };
}
