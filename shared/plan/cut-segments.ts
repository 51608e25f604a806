import type { HeatPlan, Plan } from './schema.ts';

/** A segment that is added to a heat plan, or taken out of it; segments count from 0. */
export type SegmentCut =
  | { readonly act: 'add'; readonly heat: string; readonly after: number; readonly as: 'soak' | 'ramp' }
  | { readonly act: 'remove'; readonly heat: string; readonly at: number };

type Segment = HeatPlan['segments'][number];

/** A new ramp goes so far until somebody says how far, K, and a new soak lasts so long, h. */
const NEW_RAMP_K = 10;
const NEW_SOAK_H = 1;
const NEW_RATE_K_H = 5;

/** The plan with its segments cut, one cut after the other. What names a segment by its number follows it. */
export const cutSegments = (plan: Plan, cuts: readonly SegmentCut[]): Plan => cuts.reduce(cutOnce, plan);

/** Why a segment cannot be taken out, in words; null where it can. */
export function removeFault(plan: Plan, heat: HeatPlan, at: number): string | null {
  if (heat.segments.length < 2) return 'A heat needs at least one segment.';
  const from_C = at === 0 ? heat.start_C : heat.segments[at - 1]!.to_C;
  const next = heat.segments[at + 1];
  if (next && next.soak_h === undefined && next.to_C === from_C)
    return `The segment behind it goes to ${next.to_C} °C, where it would begin: change that first.`;
  const names = [
    ...holdsNaming(plan, heat, at + 1),
    ...alarmsNaming(plan, heat, at + 1),
    ...momentsNaming(plan, heat, at + 1),
  ];
  if (names.length > 0) return `Segment ${at + 1} cannot be taken out: ${names.join(', ')}.`;
  return numbersFault(plan, heat, at + 1);
}

/** Why no segment can be added behind this one, in words; null where one can. */
export const addFault = (plan: Plan, heat: HeatPlan, after: number): string | null =>
  numbersFault(plan, heat, after + 2);

/** What names a segment, in words; segments count from 1 here, as they are said. */
const holdsNaming = (plan: Plan, heat: HeatPlan, segment: number): string[] =>
  plan.holds
    .filter((h) =>
      h.requirements.some((r) => r.kind === 'rounds' && r.heatPlan === heat.id && r.noneMissedIn.includes(segment)),
    )
    .map((h) => `hold point ${h.id} asks for its rounds`);

const alarmsNaming = (plan: Plan, { id }: HeatPlan, segment: number): string[] =>
  plan.alarms
    .filter((a) => a.watch?.on === 'rise' && a.watch.segment === segment && (a.heatPlans?.includes(id) ?? true))
    .map((a) => `alarm ${a.id} watches it`);

const momentsNaming = (plan: Plan, { id }: HeatPlan, segment: number): string[] =>
  (plan.handover.moments ?? [])
    .filter(({ ahead }) => ahead?.heatPlan === id && ahead.segment === segment)
    .map(({ words }) => `a moment without handover goes by it, “${words}”`);

/** Limits by station stand under the numbers of segments, e.g. `P3.9`, and so do readings: these numbers stay. */
function numbersFault(plan: Plan, { id }: HeatPlan, from: number): string | null {
  const named = Object.entries(plan.stationSets).flatMap(([set, stations]) =>
    stations.flatMap((s) => {
      const [heat, number] = s.id.split('.');
      return heat === id && Number(number) >= from ? [{ set, number: Number(number) }] : [];
    }),
  );
  if (named.length === 0) return null;
  const sets = new Set(named.map((n) => n.set));
  const limited = plan.characteristics.filter((c) => c.stations !== null && sets.has(c.stations)).map((c) => c.name);
  const numbers = [...new Set(named.map((n) => n.number))].sort((a, b) => a - b);
  const [segments, kept] =
    numbers.length === 1
      ? ['Segment', 'its number: limits go by it']
      : ['Segments', 'their numbers: limits go by them'];
  const names = limited.length > 0 ? limited : [...sets];
  return `${segments} ${numbers.join(', ')} of ${id} must keep ${kept} (${names.join('; ')}).`;
}

/** The place of a segment after a cut; null for one that was taken out. */
export function placeAfter(cut: SegmentCut, at: number): number | null {
  if (cut.act === 'add') return at > cut.after ? at + 1 : at;
  return at === cut.at ? null : at > cut.at ? at - 1 : at;
}

function cutOnce(plan: Plan, cut: SegmentCut): Plan {
  const next = JSON.parse(JSON.stringify(plan)) as Plan;
  const heat = next.heatPlans.find((h) => h.id === cut.heat);
  const changed = cut.act === 'add' ? cut.after : cut.at;
  if (!heat?.segments[changed]) return plan;
  const fault = cut.act === 'add' ? addFault(plan, heat, cut.after) : removeFault(plan, heat, cut.at);
  if (fault !== null) return plan;
  if (cut.act === 'add') heat.segments.splice(cut.after + 1, 0, added(heat, cut));
  else heat.segments.splice(cut.at, 1);
  soaksStay(heat);
  renumber(next, cut);
  return next;
}

function added(heat: HeatPlan, { after, as }: Extract<SegmentCut, { act: 'add' }>): Segment {
  const { to_C, band_K, spread_K, rounds } = heat.segments[after]!;
  const next = heat.segments[after + 1];
  const same = { band_K, spread_K, rounds: rounds.map(({ extent, every_h }) => ({ extent, every_h })) };
  if (as === 'soak') return { to_C, soak_h: NEW_SOAK_H, ...same };
  // On the way that the heat takes; where it ends, or the next would go nowhere, the other way.
  const up = (next?.to_C ?? 0) > to_C ? 1 : -1;
  const goal_C = to_C + up * NEW_RAMP_K;
  const rates = heat.segments.slice(0, after + 1).flatMap((s) => s.rate_K_h ?? []);
  return {
    to_C: goal_C === next?.to_C ? goal_C - (up * NEW_RAMP_K) / 2 : goal_C,
    rate_K_h: rates.at(-1) ?? NEW_RATE_K_H,
    ...same,
  };
}

/** A soak stays where the segment before it ended. */
function soaksStay({ start_C, segments }: HeatPlan): void {
  segments.forEach((segment, i) => {
    if (segment.soak_h !== undefined) (segment as { to_C: number }).to_C = i === 0 ? start_C : segments[i - 1]!.to_C;
  });
}

/** Numbers of segments count from 1 as they are said and printed; none that is named was taken out. */
function renumber(plan: Plan, cut: SegmentCut): void {
  const moved = (number: number): number => placeAfter(cut, number - 1)! + 1;
  for (const requirement of plan.holds.flatMap((h) => h.requirements))
    if (requirement.kind === 'rounds' && requirement.heatPlan === cut.heat)
      requirement.noneMissedIn = requirement.noneMissedIn.map(moved);
  for (const { ahead } of plan.handover.moments ?? [])
    if (ahead?.heatPlan === cut.heat) ahead.segment = moved(ahead.segment);
  for (const { watch, heatPlans = [] } of plan.alarms)
    if (watch?.on === 'rise' && heatPlans.length === 1 && heatPlans[0] === cut.heat)
      watch.segment = moved(watch.segment);
}
