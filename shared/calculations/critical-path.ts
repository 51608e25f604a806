import * as z from 'zod/mini';
import { defineCalculation, figure, RefusedInput, workedOut } from './calculation.ts';
import { finite, notNegative } from './fields.ts';
import { type Link, schedule } from './numeric/plan-network.ts';

const id = () => z.string().check(z.minLength(1, 'must not be empty: an id'));
const link = z.strictObject({
  id: id(),
  type: z.optional(z.enum(['FS', 'SS', 'FF', 'SF'])),
  lag: z.optional(finite()),
});
const input = z.strictObject({
  activities: z
    .array(
      z.strictObject({
        id: id(),
        duration: notNegative('must not be negative: a duration'),
        after: z.optional(
          z.array(
            z.union([id(), link], 'must be an id, or an id with a type (FS, SS, FF or SF) and a lag, and nothing else'),
          ),
        ),
      }),
    )
    .check(z.minLength(1, 'needs at least 1')),
});
const dates = z.strictObject({
  early_start: z.number(),
  early_finish: z.number(),
  late_start: z.number(),
  late_finish: z.number(),
  total_float: z.number(),
  free_float: z.number(),
});
const output = z.strictObject({
  duration: z.number(),
  activities: z.record(z.string(), dates),
  critical: z.array(z.string()),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Ids by their place. @throws {RefusedInput} for an id that stands twice or cannot be a key. */
function placesOf(i: Input): Map<string, number> {
  const places = new Map<string, number>();
  i.activities.forEach((activity, k) => {
    if (places.has(activity.id)) throw new RefusedInput(`activities.${k}.id`, `stands twice: ${activity.id}`);
    // The one name that a JSON object cannot carry safely.
    if (activity.id === '__proto__') throw new RefusedInput(`activities.${k}.id`, 'cannot be used as an id');
    places.set(activity.id, k);
  });
  return places;
}

/** Every link, with its defaults filled in. @throws {RefusedInput} for one that names no activity. */
function linksOf(i: Input): Link[] {
  const places = placesOf(i);
  return i.activities.flatMap((activity, to) =>
    (activity.after ?? []).map((entry, k): Link => {
      const told = typeof entry === 'string' ? { id: entry } : entry;
      const from = places.get(told.id);
      if (from === undefined) throw new RefusedInput(`activities.${to}.after.${k}`, `names no activity: ${told.id}`);
      return { from, to, type: told.type ?? 'FS', lag: told.lag ?? 0 };
    }),
  );
}

/** Says in a working what an activity waits for. */
function waitsFor(activity: Input['activities'][number]): string {
  const links = (activity.after ?? []).map((entry) => {
    if (typeof entry === 'string') return entry;
    const lag = entry.lag ?? 0;
    return `${entry.id} ${entry.type ?? 'FS'}${lag === 0 ? '' : ` ${lag < 0 ? '−' : '+'} ${figure(Math.abs(lag))}`}`;
  });
  return links.length === 0 ? 'from the start' : `after ${links.join(', ')}`;
}

/** How long the plan takes, and which operations must not slip. */
export const criticalPath = defineCalculation<Input, Output>({
  name: 'critical-path',
  title: 'Critical path of a plan',
  group: 'Planning and proof',
  source:
    'J. E. Kelley and M. R. Walker, Critical-path planning and scheduling, Proc. Eastern Joint Computer Conference 1959, p. 160; links with lags: precedence diagram method, J. W. Fondahl 1961',
  formula:
    'ES = max(0, FS: EF + lag, SS: ES + lag, FF: EF + lag − d, SF: ES + lag − d); LS likewise from the end; total float = LS − ES',
  validity:
    'Durations and lags in one unit of elapsed time; people and machines without limit. Free float: what delays neither a follower nor the end.',
  version: 1,
  input,
  output,
  compute(i) {
    const ids = i.activities.map((a) => a.id);
    const durations = i.activities.map((a) => a.duration);
    const plan = schedule(ids, durations, linksOf(i));
    const critical = ids
      .map((name, k) => ({ name, k, ...plan.dates[k]! }))
      .filter((a) => a.total_float === 0)
      .sort((a, b) => a.early_start - b.early_start || a.early_finish - b.early_finish || a.k - b.k);
    return {
      duration: plan.duration,
      activities: Object.fromEntries(ids.map((name, k) => [name, plan.dates[k]!])),
      critical: critical.map((a) => a.name),
    };
  },
  working(i, o) {
    return [
      ...i.activities.map((activity) => {
        const d = o.activities[activity.id]!;
        return workedOut(
          activity.id,
          `earliest ${figure(d.early_start)} to ${figure(d.early_finish)}, latest ${figure(d.late_start)} to ${figure(d.late_finish)}, float ${figure(d.total_float)}`,
          activity.duration,
          'as given',
          waitsFor(activity),
        );
      }),
      workedOut('duration', 'of the whole', o.duration, 'as given', 'greatest earliest finish'),
      workedOut('critical', 'activities without float', o.critical.join(', '), '', 'total float = 0'),
    ];
  },
});
