import { channelsOf, isTemperature } from './channels.ts';
import type { Heat } from './rounds.ts';
import type { View } from './view.ts';

/** One channel at an instant, from a round or from a logger. */
export interface Sample {
  readonly t_ms: number;
  readonly channel: string;
  readonly celsius: number;
}

/** Every good temperature of a heat, oldest first. What is dead, suspect or struck is left out. */
export const samplesOf = (view: View, heat: Heat): readonly Sample[] =>
  view.memo.get(`samples/${heat.plan.id}`, () =>
    channelsOf(view, heat)
      .filter((h) => isTemperature(h.channel))
      .flatMap(({ channel, readings }) =>
        readings.flatMap(({ at_ms, row }): Sample[] =>
          row.state === 'good' && row.value !== null ? [{ t_ms: at_ms, channel: channel.id, celsius: row.value }] : [],
        ),
      )
      .sort((a, b) => a.t_ms - b.t_ms),
  );

/** What loggers recorded, thinned, oldest first. */
export interface Logged {
  /** The same name for the same samples: what is worked out of them is kept under it. */
  readonly name: string;
  readonly samples: readonly Sample[];
}

/** Every good temperature of a heat, from rounds and loggers alike, oldest first. */
export function allSamplesOf(view: View, heat: Heat, logged: Logged | null): readonly Sample[] {
  if (logged === null) return samplesOf(view, heat);
  return view.memo.get(`samples/${heat.plan.id}/${logged.name}`, () =>
    [...samplesOf(view, heat), ...goodLogged(view, heat, logged.samples)].sort((a, b) => a.t_ms - b.t_ms),
  );
}

/** A logger does not know that a wire is broken or wanders: its samples are left out from the round on that says so. */
function goodLogged(view: View, heat: Heat, samples: readonly Sample[]): Sample[] {
  const until_ms = heat.ended_ms ?? Number.POSITIVE_INFINITY;
  const histories = new Map(
    channelsOf(view, heat)
      .filter((h) => isTemperature(h.channel))
      .map(({ channel, readings }) => [channel.id, [...readings].sort((a, b) => a.at_ms - b.at_ms)] as const),
  );
  const failed = new Set([...histories].filter(([, all]) => all.some((r) => r.row.state !== 'good')).map(([id]) => id));
  return samples.filter(({ t_ms, channel }) => {
    const readings = histories.get(channel);
    if (!readings || t_ms < heat.start_ms || t_ms > until_ms) return false;
    // Most channels never failed: nothing to look for.
    const state = failed.has(channel) ? readings.findLast((r) => r.at_ms <= t_ms)?.row.state : 'good';
    return state === undefined || state === 'good';
  });
}

/** All channels that were read at one instant. */
export interface Instant {
  readonly t_ms: number;
  readonly read: ReadonlyMap<string, number>;
}

/** Samples by the instant at which they were taken, oldest first; of two of one channel the later written counts. */
export function instantsOf(samples: readonly Sample[]): Instant[] {
  const byTime = new Map<number, Map<string, number>>();
  for (const { t_ms, channel, celsius } of samples) {
    const read = byTime.get(t_ms) ?? new Map<string, number>();
    byTime.set(t_ms, read.set(channel, celsius));
  }
  return [...byTime].sort(([a], [b]) => a - b).map(([t_ms, read]) => ({ t_ms, read }));
}

/** A mean of the same channels at every instant: one that comes and goes would make it jump. */
export interface SteadyMean {
  readonly channels: readonly string[];
  readonly points: readonly { readonly t_ms: number; readonly celsius: number }[];
}

/** A channel that is missing at more than a tenth of the instants is left out, not the instants. */
const PRESENT_SHARE = 0.9;

/** The mean of those of some channels that were read nearly always, at the instants at which all of them were. */
export function steadyMean(instants: readonly Instant[], wanted: ReadonlySet<string>): SteadyMean {
  const some = instants.filter(({ read }) => [...read.keys()].some((id) => wanted.has(id)));
  const counts = new Map<string, number>();
  for (const { read } of some)
    for (const id of read.keys()) if (wanted.has(id)) counts.set(id, (counts.get(id) ?? 0) + 1);
  const most = Math.max(0, ...counts.values());
  const channels = [...counts].flatMap(([id, count]) => (count >= PRESENT_SHARE * most ? [id] : [])).sort();
  const points = some.flatMap(({ t_ms, read }) => {
    const values = channels.map((id) => read.get(id));
    return values.every((v) => v !== undefined)
      ? [{ t_ms, celsius: values.reduce((a, b) => a + b, 0) / values.length }]
      : [];
  });
  return { channels, points };
}

/** The samples up to an instant that are no older than so many ms; they come oldest first. */
export function recent(samples: readonly Sample[], at_ms: number, within_ms: number): readonly Sample[] {
  const end = samples.findLastIndex((s) => s.t_ms <= at_ms) + 1;
  let from = end;
  while (from > 0 && at_ms - samples[from - 1]!.t_ms <= within_ms) from -= 1;
  return samples.slice(from, end);
}

/** The newest value of each channel, none older than so many ms at an instant. */
export const latestOf = (samples: readonly Sample[], at_ms: number, within_ms: number): ReadonlyMap<string, number> =>
  new Map(recent(samples, at_ms, within_ms).map(({ channel, celsius }) => [channel, celsius]));

export const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
