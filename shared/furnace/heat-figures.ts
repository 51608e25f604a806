import { rate } from '../calculations/rate.ts';
import { uncertainty } from '../calculations/uncertainty.ts';
import { baselineOf } from '../logbook/state/baseline.ts';
import { channelsOf } from '../logbook/state/channels.ts';
import type { Heat } from '../logbook/state/rounds.ts';
import { instantsOf, latestOf, mean, recent, type Sample, steadyMean } from '../logbook/state/samples.ts';
import type { View } from '../logbook/state/view.ts';
import { figureOf } from './figure-of.ts';

const HOUR_MS = 3_600_000;
/** Rounds are in time within a tenth of their interval, and so are the ends of a window. */
const SLACK = 1.1;

/** A calculation with what was put in, so that its working can be shown. */
export interface WorkedBy {
  readonly calculation: string;
  readonly input: Readonly<Record<string, unknown>>;
}

/** Rate of the mean of some channels over a window of time. */
export interface RateNow {
  readonly rate_K_h: number;
  /** Half the 95 % interval from the scatter about the line; null where two readings leave nothing to judge by. */
  readonly expanded_K_h: number | null;
  readonly standardError_K_h: number | null;
  readonly readings: number;
  readonly channels: readonly string[];
  readonly span_h: number;
  readonly worked: WorkedBy;
}

/** The rate over the last hours before an instant; over the last two instants where they lie further apart. */
export function rateOverWindow(
  samples: readonly Sample[],
  wanted: ReadonlySet<string>,
  at_ms: number,
  window_h: number,
): RateNow | null {
  // Most of a long record is older than the window: it is looked through only where the window holds too little.
  const among = (some: readonly Sample[]) => instantsOf(some.filter((s) => wanted.has(s.channel)));
  const inWindow = among(recent(samples, at_ms, window_h * SLACK * HOUR_MS));
  const taken = inWindow.length < 2 ? among(recent(samples, at_ms, Number.POSITIVE_INFINITY)).slice(-2) : inWindow;
  const { channels, points } = steadyMean(taken, wanted);
  const first = points[0];
  if (!first || points.length < 2) return null;
  const input = {
    readings: points.map((p) => ({ at_h: (p.t_ms - first.t_ms) / HOUR_MS, temperature_C: p.celsius })),
  };
  const { rate_K_h, standard_error_K_h } = rate.compute(input);
  return {
    rate_K_h,
    standardError_K_h: standard_error_K_h,
    expanded_K_h:
      standard_error_K_h === null
        ? null
        : uncertainty.compute({
            components: [
              { standard_uncertainty: standard_error_K_h, sensitivity: 1, degrees_of_freedom: points.length - 2 },
            ],
            coverage: 0.95,
          }).expanded,
    readings: points.length,
    channels,
    span_h: input.readings.at(-1)!.at_h,
    worked: { calculation: rate.name, input },
  };
}

/** The channels of some groups, those put in place of others too. */
export const channelsIn = (view: View, heat: Heat, groups: readonly string[]): ReadonlySet<string> =>
  new Set(channelsOf(view, heat).flatMap(({ channel }) => (groups.includes(channel.group) ? [channel.id] : [])));

/** A difference between two places of the furnace or of the glass. */
export interface Difference {
  readonly name: string;
  readonly value_K: number;
  /** What it comes from, in the words of a working. */
  readonly formula: string;
}

/** What the last readings of a heat say beside the plan. */
export interface HeatFigures {
  readonly zones: Difference | null;
  readonly vertical: Difference | null;
  readonly radial: Difference | null;
}

/** The zones that heaters are set by. */
const ZONES = ['CR', 'WU', 'WL'] as const;

/** Spread of the zones, up and down, rim and centre, from the newest reading of each channel. */
export function heatFigures(view: View, heat: Heat, samples: readonly Sample[], at_ms: number): HeatFigures {
  const every_h = Math.max(1, ...heat.plan.segments.flatMap((s) => s.rounds.map((r) => r.every_h)));
  const now = latestOf(samples, at_ms, SLACK * every_h * HOUR_MS);
  const groupMean = (group: string): number | null => {
    const values = [...channelsIn(view, heat, [group])].flatMap((id) => now.get(id) ?? []);
    return values.length === 0 ? null : mean(values);
  };
  return { zones: zonesOf(groupMean), vertical: verticalOf(view, now, groupMean), radial: radialOf(now) };
}

type GroupMean = (group: string) => number | null;

const tenth = (value: number): string => figureOf(value, 1);

function zonesOf(groupMean: GroupMean): Difference | null {
  const means = ZONES.flatMap((group) => {
    const value = groupMean(group);
    return value === null ? [] : [{ group, value }];
  }).sort((a, b) => b.value - a.value);
  const [most, least] = [means[0], means.at(-1)];
  if (!most || !least || means.length < 2) return null;
  return {
    name: 'zones apart',
    value_K: most.value - least.value,
    formula: `mean ${most.group} ${tenth(most.value)} − mean ${least.group} ${tenth(least.value)} °C`,
  };
}

/** Face less back of the glass pair by pair; the upper wall less the lower while there is no glass. */
function verticalOf(view: View, now: ReadonlyMap<string, number>, groupMean: GroupMean): Difference | null {
  const pairs = view.plan.channels.flatMap(({ id, group, pair }) => {
    const [face, back] = [now.get(id), pair === undefined ? undefined : now.get(pair)];
    if (group !== 'FC' || face === undefined || back === undefined) return [];
    return [{ difference: face - back, baseline: baselineOf(view, `${id}-${pair}`) }];
  });
  if (pairs.length > 0) {
    const known = pairs.every((p) => p.baseline !== null);
    return {
      name: known ? 'face less back, less baseline' : 'face less back',
      value_K: mean(pairs.map((p) => p.difference - (known ? p.baseline! : 0))),
      formula: `mean of ${pairs.length} pairs FC − BP${known ? ', each less its baseline' : '; no baseline is recorded'}`,
    };
  }
  const [upper, lower] = [groupMean('WU'), groupMean('WL')];
  if (upper === null || lower === null) return null;
  return {
    name: 'upper less lower wall',
    value_K: upper - lower,
    formula: `mean WU ${tenth(upper)} − mean WL ${tenth(lower)} °C`,
  };
}

/** Rim less centre under the back plate. */
function radialOf(now: ReadonlyMap<string, number>): Difference | null {
  const centre = now.get('BP-0');
  const rim = [1, 2, 3, 4, 5, 6].flatMap((n) => now.get(`BP-${n}`) ?? []);
  if (centre === undefined || rim.length === 0) return null;
  return {
    name: 'rim less centre',
    value_K: mean(rim) - centre,
    formula: `mean of ${rim.length} at the rim ${tenth(mean(rim))} − BP-0 ${tenth(centre)} °C`,
  };
}
