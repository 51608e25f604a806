import { conformity } from '../../calculations/conformity.ts';
import { rate } from '../../calculations/rate.ts';
import { type ThermocoupleType, thermocoupleTypes } from '../../calculations/thermocouple-coefficients.ts';
import type { Channel, HeatPlan, Plan } from '../../plan/schema.ts';
import type { Body, Verdict } from '../kinds.ts';
import { GUARD_FACTOR } from './derived-value.ts';
import { groupName } from './group-name.ts';
import { type Planned, plannedAt } from './heat.ts';
import { type Heat, heatOf } from './rounds.ts';
import type { View } from './view.ts';

export type RoundRow = Body<'round'>['readings'][number];
/** What of a row the figures of a round are worked out from. */
export type ValueRow = Pick<RoundRow, 'channel' | 'value' | 'state'>;

/** `replaced` is worked out: a sensor of another name says that it stands in its place. */
export type ChannelState = RoundRow['state'] | 'replaced';

/** One channel in one round. */
export interface ChannelReading {
  readonly at_ms: number;
  readonly row: RoundRow;
  /** Who read it. */
  readonly observer: string;
  readonly entry: string;
}

export interface ChannelHistory {
  readonly channel: Channel;
  /** Oldest first. */
  readonly readings: readonly ChannelReading[];
  readonly state: ChannelState;
  /** Since when it is not good; null while it is. */
  readonly since_ms: number | null;
  readonly reason: string | null;
  /** The channel that stands in for a dead one. */
  readonly substitute: string | null;
  readonly replacedBy: string | null;
}

/** Groups whose cables end in the cabinet on the table, with the second reference junction. */
const onTheTable: ReadonlySet<string> = new Set(['BD', 'FB', 'BP', 'MC', 'FC']);

/** The reference junction that a thermocouple's emf is read against. */
export const junctionOf = (channel: Channel): string => (onTheTable.has(channel.group) ? 'RJ-2' : 'RJ-1');

/** The type of a thermocouple; null for every other channel. */
export const thermocoupleType = (channel: Channel): ThermocoupleType | null =>
  thermocoupleTypes.find((type) => type === channel.type) ?? null;

export const isTemperature = (channel: Channel): boolean => channel.unit === '°C';

/** Whether a channel is held to the plan, by its group. */
export const isControl = (plan: HeatPlan, channel: Channel): boolean => plan.control.includes(channel.group);

/** Every channel in walking order with all that was read of it in a heat; replacements stand behind what they replace. */
export function channelsOf(view: View, heat: Heat): readonly ChannelHistory[] {
  return view.memo.get(`channels/${heat.plan.id}`, () => {
    const byChannel = new Map<string, ChannelReading[]>();
    for (const { body, entry, hash } of walkedOf(view, heat)) {
      for (const row of body.readings) {
        const reading = { at_ms: Date.parse(entry.observedAt), row, observer: body.observer, entry: hash };
        byChannel.set(row.channel, [...(byChannel.get(row.channel) ?? []), reading]);
      }
    }
    return allChannels(view.plan, byChannel).map((channel) => historyOf(channel, byChannel));
  });
}

/** Asked of the view, so that an answer kept from it is taken back with the next round. */
const walkedOf = (view: View, heat: Heat): Heat['walked'] => heatOf(view, heat.plan)?.walked ?? [];

function allChannels(plan: Plan, byChannel: ReadonlyMap<string, readonly ChannelReading[]>): Channel[] {
  const replacements = [...byChannel].flatMap(([id, readings]) => {
    const replaces = readings.find((r) => r.row.replaces !== undefined)?.row.replaces;
    return replaces === undefined ? [] : [{ id, replaces }];
  });
  const withThose = (channel: Channel): Channel[] => [
    channel,
    ...replacements.filter((r) => r.replaces === channel.id).flatMap((r) => withThose({ ...channel, id: r.id })),
  ];
  return plan.channels.flatMap(withThose);
}

function historyOf(channel: Channel, byChannel: ReadonlyMap<string, readonly ChannelReading[]>): ChannelHistory {
  const readings = byChannel.get(channel.id) ?? [];
  const last = readings.at(-1);
  const replaced = [...byChannel].find(([, rows]) => rows.some((r) => r.row.replaces === channel.id));
  const bad = last === undefined || last.row.state === 'good' ? [] : runOf(readings, last.row.state);
  return {
    channel,
    readings,
    state: replaced ? 'replaced' : (last?.row.state ?? 'good'),
    since_ms: bad[0]?.at_ms ?? null,
    reason: bad.findLast((r) => r.row.words !== undefined)?.row.words ?? null,
    substitute: bad.findLast((r) => r.row.substitute !== undefined)?.row.substitute ?? null,
    replacedBy: replaced?.[0] ?? null,
  };
}

/** The readings at the end that share a state. */
function runOf(readings: readonly ChannelReading[], state: RoundRow['state']): readonly ChannelReading[] {
  const before = readings.findLastIndex((r) => r.row.state !== state);
  return readings.slice(before + 1);
}

/** Channels that a dead one may be stood in for by: its pair, those across, and the rest of its group. */
export const substitutesFor = (plan: Plan, channel: Channel): string[] => [
  ...new Set([
    ...(channel.pair ? [channel.pair] : []),
    ...(channel.across ?? []),
    ...plan.channels.filter((c) => c.group === channel.group && c.id !== channel.id).map((c) => c.id),
  ]),
];

/** The channels whose jump is compared with one's own: the rest of its group. */
export const neighboursOf = (channels: readonly Channel[], channel: Channel): Channel[] =>
  channels.filter((c) => c.id !== channel.id && c.group === channel.group && isTemperature(c));

const RATE_WINDOW_MS = 4 * 3_600_000;

/**
 * Rate over the readings of the last four hours before an instant, or over the last two where rounds are further apart,
 * by the calculation `rate`; null with fewer than two.
 */
export function rateOver(points: readonly { at_ms: number; value: number | null }[], at_ms: number): number | null {
  const known = points.filter((p) => p.value !== null && p.at_ms <= at_ms);
  const recent = known.filter((p) => at_ms - p.at_ms <= RATE_WINDOW_MS);
  const near = recent.length < 2 ? known.slice(-2) : recent;
  const first_ms = near[0]?.at_ms ?? 0;
  if (near.every((p) => p.at_ms === first_ms)) return null;
  const readings = near.map((p) => ({ at_h: (p.at_ms - first_ms) / 3_600_000, temperature_C: p.value! }));
  return rate.compute({ readings }).rate_K_h;
}

/** A group of channels in one round. */
export interface GroupFigures {
  readonly group: string;
  readonly name: string;
  /** Read and good: only these are in the mean. */
  readonly counted: number;
  /** That the plan has of the group. */
  readonly of: number;
  readonly mean: number;
  readonly least: number;
  readonly greatest: number;
}

/** The control channels of a round against the plan. */
export interface ControlFigures {
  readonly planned: Planned;
  readonly counted: number;
  readonly of: number;
  readonly mean: number;
  readonly deviation_K: number;
  readonly verdict: Verdict;
  readonly spread_K: number;
  readonly spreadVerdict: Verdict;
  readonly standardUncertainty_K: number;
  readonly guard_K: number;
}

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

/** The good values of some groups: dead and suspect channels are left out of means. */
function goodValues(channels: readonly Channel[], rows: readonly ValueRow[], groups: readonly string[]): number[] {
  const wanted = new Set(channels.filter((c) => groups.includes(c.group)).map((c) => c.id));
  return rows.flatMap((r) => (wanted.has(r.channel) && r.state === 'good' && r.value !== null ? [r.value] : []));
}

/** The groups of temperatures in a round, in walking order; those that have no good value are left out. */
export function groupFigures(plan: Plan, channels: readonly Channel[], rows: readonly ValueRow[]): GroupFigures[] {
  const groups = [...new Set(plan.channels.filter((c) => isTemperature(c) && c.group !== 'RJ').map((c) => c.group))];
  return groups.flatMap((group) => {
    const values = goodValues(channels, rows, [group]);
    if (values.length === 0) return [];
    return [
      {
        group,
        name: groupName(group),
        counted: values.length,
        of: plan.channels.filter((c) => c.group === group).length,
        mean: mean(values),
        least: Math.min(...values),
        greatest: Math.max(...values),
      },
    ];
  });
}

/** Of one type S thermocouple; the errors of wires from one melt go together, so that a mean has no less. */
const uncertaintyOf = (plan: Plan): number =>
  plan.instrumentClasses.find((c) => c.id === 'TS')?.standardUncertainty ?? 0;

/** The control channels of a round against plan and band; null while none is read. */
export function controlFigures(
  view: View,
  heat: Heat,
  rows: readonly ValueRow[],
  at_ms: number,
): ControlFigures | null {
  return controlFiguresOf(
    view.plan,
    channelsOf(view, heat).map((h) => h.channel),
    heat,
    rows,
    at_ms,
  );
}

/** The same, from channels that are known already. */
export function controlFiguresOf(
  plan: Plan,
  channels: readonly Channel[],
  heat: Heat,
  rows: readonly ValueRow[],
  at_ms: number,
): ControlFigures | null {
  const values = goodValues(channels, rows, heat.plan.control);
  if (values.length === 0) return null;
  const planned = plannedAt(heat, at_ms);
  const u = uncertaintyOf(plan);
  const value = mean(values);
  const spread_K = Math.max(...values) - Math.min(...values);
  return {
    planned,
    counted: values.length,
    of: plan.channels.filter((c) => isControl(heat.plan, c)).length,
    mean: value,
    deviation_K: value - planned.planned_C,
    verdict: conformity.compute({
      value,
      standard_uncertainty: u,
      lower_limit: planned.planned_C - planned.band_K,
      upper_limit: planned.planned_C + planned.band_K,
    }).verdict,
    spread_K,
    // A difference of two readings carries the uncertainty of both.
    spreadVerdict: conformity.compute({
      value: spread_K,
      standard_uncertainty: Math.SQRT2 * u,
      upper_limit: planned.spread_K,
    }).verdict,
    standardUncertainty_K: u,
    guard_K: GUARD_FACTOR * u,
  };
}

/** A group's mean in every round of a heat, with the plan of its instant. */
export interface MeanPoint {
  readonly at_ms: number;
  readonly value: number;
  readonly planned_C: number;
}

/** The mean of some groups over a heat: what the chart draws. */
export function meansOf(view: View, heat: Heat, groups: readonly string[]): readonly MeanPoint[] {
  return view.memo.get(`means/${heat.plan.id}/${groups.join()}`, () => {
    const channels = channelsOf(view, heat).map((h) => h.channel);
    return walkedOf(view, heat).flatMap(({ body, entry }) => {
      const values = goodValues(channels, body.readings, groups);
      const at_ms = Date.parse(entry.observedAt);
      return values.length === 0 ? [] : [{ at_ms, value: mean(values), planned_C: plannedAt(heat, at_ms).planned_C }];
    });
  });
}
