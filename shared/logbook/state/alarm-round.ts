import type { WorkingLine } from '../../calculations/calculation.ts';
import type { Alarm, AlarmWatch, Channel, Plan } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { type ControlFigures, controlFiguresOf } from './channels.ts';
import type { AlarmFound } from './findings.ts';
import type { Heat } from './rounds.ts';

export const HOUR_MS = 3_600_000;
/** Rounds are in time within a tenth of their interval, and so are the ends of a window. */
const WINDOW_SLACK = 1.1;

/** An alarm held at one round, or one reading. */
export interface Hit {
  /** What was seen, with its figures. */
  readonly words: string;
  /** How many times the threshold, to tell the worst. */
  readonly excess: number;
  readonly lines: readonly WorkingLine[];
  readonly worked?: NonNullable<AlarmFound['worked']>;
}

/** By what it is about ('' or a channel): held, or null where it did not hold. What could not be judged is left out. */
export type Hits = ReadonlyMap<string, Hit | null>;

/** A round as the alarms see it. */
export interface Moment {
  readonly kept: Kept<'round'> | null;
  readonly at_ms: number;
  /** Of the heat before: only what this heat's alarms look back to. */
  readonly leadIn: boolean;
  /** Those of the plan, and the sensors that were put in place of one so far. */
  readonly channels: readonly Channel[];
  /** °C, kW or rpm of the channels that were read and are good. */
  readonly good: ReadonlyMap<string, number>;
  readonly control: ControlFigures | null;
  /** The least of each channel since the watched segment began. */
  readonly lows: ReadonlyMap<string, number>;
  /** The rate of spin has been within its limits. */
  readonly spun: boolean;
  /** By alarm. */
  readonly hits: ReadonlyMap<string, Hits>;
}

/** What an alarm is judged from: the rounds up to the one in question, which is the last. */
export interface AlarmCase<On extends AlarmWatch['on'] = AlarmWatch['on']> {
  readonly plan: Plan;
  readonly heat: Heat;
  readonly alarm: Alarm;
  readonly watch: Extract<AlarmWatch, { on: On }>;
  readonly before: readonly Moment[];
  readonly now: Moment;
}

const NOTHING: ReadonlyMap<string, never> = new Map<string, never>();

/** Where a heat's rounds start from. */
export const firstMoment = (plan: Plan): Moment => ({
  kept: null,
  at_ms: Number.NEGATIVE_INFINITY,
  leadIn: true,
  channels: plan.channels,
  good: NOTHING,
  control: null,
  lows: NOTHING,
  spun: false,
  hits: NOTHING,
});

/** A round read, before the alarms are judged. */
export function readMoment(plan: Plan, heat: Heat, last: Moment, kept: Kept<'round'>): Moment {
  const { readings, heatPlan } = kept.body;
  const at_ms = Date.parse(kept.entry.observedAt);
  const leadIn = heatPlan !== heat.plan.id;
  const channels = withReplacements(last.channels, readings);
  const good = readings.flatMap((r): [string, number][] =>
    r.state === 'good' && r.value !== null ? [[r.channel, r.value]] : [],
  );
  return {
    kept,
    at_ms,
    leadIn,
    channels,
    good: new Map(good),
    control: leadIn ? null : controlFiguresOf(plan, channels, heat, readings, at_ms),
    lows: last.lows,
    spun: last.spun,
    hits: NOTHING,
  };
}

function withReplacements(
  channels: readonly Channel[],
  readings: Kept<'round'>['body']['readings'],
): readonly Channel[] {
  const fresh = readings.flatMap(({ channel, replaces }) => {
    const replaced = channels.find((c) => c.id === replaces);
    return replaced && !channels.some((c) => c.id === channel) ? [{ ...replaced, id: channel }] : [];
  });
  return fresh.length === 0 ? channels : [...channels, ...fresh];
}

/** The good readings of some groups in a round. */
export const goodOf = (moment: Moment, groups: readonly string[]): { id: string; value: number }[] =>
  moment.channels.flatMap(({ id, group }) => {
    const value = groups.includes(group) ? moment.good.get(id) : undefined;
    return value === undefined ? [] : [{ id, value }];
  });

/** The rounds of the last hours up to the one in question, oldest first, that one too. */
export function lastHours({ before, now }: Pick<AlarmCase, 'before' | 'now'>, hours: number): Moment[] {
  const from_ms = now.at_ms - hours * WINDOW_SLACK * HOUR_MS;
  return [...before.slice(before.findLastIndex((m) => m.at_ms < from_ms) + 1), now];
}

export const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

/** Hours from the first of some instants, as a fit takes them. */
export const hoursFrom = (first_ms: number, at_ms: number): number => (at_ms - first_ms) / HOUR_MS;
