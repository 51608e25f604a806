import { rate } from '../../calculations/rate.ts';
import type { AlarmWatch, Plan } from '../../plan/schema.ts';
import { baselineOf } from './baseline.ts';
import { channelsOf } from './channels.ts';
import type { Raw } from './derived-value.ts';
import { type Heat, heatOf } from './rounds.ts';
import { mean } from './samples.ts';
import type { View } from './view.ts';

const HOUR_MS = 3_600_000;
/** The rate is of a day; rounds are in time within a tenth of their interval. */
const WINDOW_MS = 1.1 * 24 * HOUR_MS;
const LEAST_SPAN_MS = 12 * HOUR_MS;
const LEAST_READINGS = 3;
const FACES = ['FC', 'BP'];

/** A round of the anneal whose glass is in or below the range that the plan limits. */
interface GlassRound {
  readonly hash: string;
  readonly at_ms: number;
  readonly good: ReadonlyMap<string, number>;
}

type CoolingWatch = Extract<AlarmWatch, { on: 'cooling' }>;

/** Above this nothing limits the rate: the glass relaxes faster than it is cooled. */
const topOf = (plan: Plan): number =>
  plan.alarms.map((a) => a.watch).find((w): w is CoolingWatch => w?.on === 'cooling')?.ranges[0]?.from_C ??
  Number.POSITIVE_INFINITY;

function heatAt(view: View, operation: string): Heat | null {
  const plan = view.plan.heatPlans.find((p) => p.operations.includes(operation));
  return plan ? heatOf(view, plan) : null;
}

/** The rounds of an operation in the limited range, oldest first. */
function glassRounds(view: View, operation: string): readonly GlassRound[] {
  return view.memo.get(`glass rounds/${operation}`, () => {
    const heat = heatAt(view, operation);
    if (!heat) return [];
    const faces = new Set(
      channelsOf(view, heat).flatMap((h) => (FACES.includes(h.channel.group) ? [h.channel.id] : [])),
    );
    const top_C = topOf(view.plan);
    return heat.walked
      .filter((r) => r.body.operation === operation)
      .map(({ hash, entry, body }): GlassRound => {
        const good = body.readings.flatMap((r): [string, number][] =>
          r.state === 'good' && r.value !== null ? [[r.channel, r.value]] : [],
        );
        return { hash, at_ms: Date.parse(entry.observedAt), good: new Map(good) };
      })
      .filter(({ good }) => {
        const read = [...good].flatMap(([id, value]) => (faces.has(id) ? [value] : []));
        return read.length > 0 && mean(read) <= top_C;
      });
  });
}

/** At a station, the worst that any round of the range showed: one that was passed is not made good by the next. */
function worstOf(
  view: View,
  operation: string,
  station: string,
  difference: (good: GlassRound['good']) => number | null,
  size: (value: number) => number,
): Raw[] {
  const values = glassRounds(view, operation).flatMap(({ hash, good }): Raw[] => {
    const value = difference(good);
    return value === null ? [] : [{ station, value, causes: [hash] }];
  });
  return values.length === 0 ? [] : [values.reduce((a, b) => (size(b.value) > size(a.value) ? b : a))];
}

/** Middle of the glass less the mean of face and back over it, less the baseline. */
export const throughDifferences = (view: View, operation: string): Raw[] =>
  view.plan.channels
    .filter((c) => c.group === 'MC')
    .flatMap(({ id, across = [] }) =>
      worstOf(
        view,
        operation,
        id,
        (good) => {
          const middle = good.get(id);
          const around = across.map((other) => good.get(other));
          if (middle === undefined || around.length === 0 || !around.every((v) => v !== undefined)) return null;
          return middle - mean(around) - (baselineOf(view, id) ?? 0);
        },
        (value) => value,
      ),
    );

/** Face less back of each pair, less the baseline. */
export const pairDifferences = (view: View, operation: string): Raw[] =>
  view.plan.channels
    .filter((c) => c.group === 'FC')
    .flatMap(({ id, pair }) => {
      const station = `${id}-${pair}`;
      return worstOf(
        view,
        operation,
        station,
        (good) => {
          const [face, back] = [good.get(id), pair === undefined ? undefined : good.get(pair)];
          return face === undefined || back === undefined ? null : face - back - (baselineOf(view, station) ?? 0);
        },
        Math.abs,
      );
    });

/** The fastest cooling over a day that the range saw: of the mean of the glass channels that were read each time. */
export function fastestDay(view: View, operation: string): Raw[] {
  const heat = heatAt(view, operation);
  if (!heat) return [];
  const rounds = glassRounds(view, operation);
  const glass = channelsOf(view, heat).flatMap((h) =>
    heat.plan.control.includes(h.channel.group) ? [h.channel.id] : [],
  );
  let worst: Raw | null = null;
  let first = 0;
  rounds.forEach((last, k) => {
    while (last.at_ms - rounds[first]!.at_ms > WINDOW_MS) first += 1;
    const day = rounds.slice(first, k + 1);
    if (day.length < LEAST_READINGS || last.at_ms - day[0]!.at_ms < LEAST_SPAN_MS) return;
    const common = glass.filter((id) => day.every((r) => r.good.has(id)));
    if (common.length === 0) return;
    const input = {
      readings: day.map((r) => ({
        at_h: (r.at_ms - day[0]!.at_ms) / HOUR_MS,
        temperature_C: mean(common.map((id) => r.good.get(id)!)),
      })),
    };
    const { rate_K_h } = rate.compute(input);
    if (worst === null || rate_K_h < worst.value)
      worst = {
        station: 'one',
        value: rate_K_h,
        causes: day.map((r) => r.hash),
        worked: { calculation: rate.name, input },
      };
  });
  return worst === null ? [] : [worst];
}
