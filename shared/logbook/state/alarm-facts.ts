import type { Alarm, AlarmWatch, Plan } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { ALARM_ADVICE } from './alarm-advice.ts';
import { junctionHits, powerHits, spinHits, spunWith } from './alarm-furnace.ts';
import { coolingHits, lowsWith, riseHits } from './alarm-glass.ts';
import { bandHits, rateHits } from './alarm-heat.ts';
import { levelAnswers } from './alarm-level.ts';
import { type AlarmCase, firstMoment, type Hit, type Hits, HOUR_MS, type Moment, readMoment } from './alarm-round.ts';
import { type Fact, stationLabel } from './findings.ts';
import { type Heat, heatOf } from './rounds.ts';
import { Strand } from './strand.ts';
import type { View } from './view.ts';

/** The alarms of the plan that held in the rounds and levels of an operation, one for each time that they held on end. */
export const alarmFacts = (view: View, operation: string): Fact[] => [
  ...view.plan.heatPlans
    .filter((plan) => plan.operations.includes(operation))
    .flatMap((plan) => {
      const heat = heatOf(view, plan);
      return heat ? heatFacts(view, heat).filter((f) => f.operation === operation) : [];
    }),
  ...levelFacts(view, operation),
];

type Rounds = Strand<Kept<'round'>, Moment>;
const strands = new WeakMap<Plan, Map<string, { start_ms: number; root: Moment; strand: Rounds }>>();

/** Answers rest on the plan and on the start of the heat as well as on the rounds: another of either starts anew. */
function strandOf(plan: Plan, heat: Heat): { root: Moment; strand: Rounds } {
  const byHeat = strands.get(plan) ?? new Map<string, { start_ms: number; root: Moment; strand: Rounds }>();
  strands.set(plan, byHeat);
  const found = byHeat.get(heat.plan.id);
  if (found?.start_ms === heat.start_ms) return found;
  const made = { start_ms: heat.start_ms, root: firstMoment(plan), strand: new Strand<Kept<'round'>, Moment>() };
  byHeat.set(heat.plan.id, made);
  return made;
}

/** The rounds of a heat, each with the alarms that held in it. */
function momentsOf(view: View, heat: Heat): Moment[] {
  const watched = view.plan.alarms.filter((a) => a.watch && (a.heatPlans?.includes(heat.plan.id) ?? true));
  if (watched.length === 0) return [];
  const rounds = [...leadInOf(view, heat, watched), ...heat.walked];
  const { root, strand } = strandOf(view.plan, heat);
  return strand
    .follow(root, rounds, (before, kept) => momentOf(view.plan, heat, watched, before, kept))
    .filter((m) => !m.leadIn);
}

/** Rounds of the heat before that an alarm over hours still looks back to: glass cools on from one into the next. */
function leadInOf(view: View, heat: Heat, watched: readonly Alarm[]): Kept<'round'>[] {
  return watched.flatMap(({ heatPlans = [], watch }) => {
    const before = heatPlans[heatPlans.indexOf(heat.plan.id) - 1];
    const plan = watch?.on === 'cooling' && view.plan.heatPlans.find((p) => p.id === before);
    if (!plan) return [];
    const from_ms = heat.start_ms - watch.window_h * HOUR_MS;
    return (heatOf(view, plan)?.walked ?? []).filter(({ entry }) => {
      const at_ms = Date.parse(entry.observedAt);
      return at_ms >= from_ms && at_ms < heat.start_ms;
    });
  });
}

function momentOf(
  plan: Plan,
  heat: Heat,
  watched: readonly Alarm[],
  before: readonly Moment[],
  kept: Kept<'round'>,
): Moment {
  const now = readMoment(plan, heat, before.at(-1)!, kept);
  if (now.leadIn) return now;
  const earlier = before.slice(1);
  const cases = watched.map((alarm): AlarmCase => ({ plan, heat, alarm, watch: alarm.watch!, before: earlier, now }));
  const rise = caseOn(cases, 'rise');
  const spin = caseOn(cases, 'spin');
  return {
    ...now,
    lows: rise ? lowsWith(rise) : now.lows,
    spun: spin ? spunWith(spin) : now.spun,
    hits: new Map(cases.map((c) => [c.alarm.id, hitsOf(c)])),
  };
}

const caseOn = <On extends AlarmWatch['on']>(cases: readonly AlarmCase[], on: On): AlarmCase<On> | null =>
  (cases.find((c) => c.watch.on === on) as AlarmCase<On> | undefined) ?? null;

const judges: { readonly [On in Exclude<AlarmWatch['on'], 'level'>]: (asked: AlarmCase<On>) => Hits } = {
  band: bandHits,
  rate: rateHits,
  cooling: coolingHits,
  junction: junctionHits,
  spin: spinHits,
  power: powerHits,
  rise: riseHits,
};

const hitsOf = (asked: AlarmCase): Hits => {
  const { on } = asked.watch;
  return on === 'level' ? new Map() : (judges[on] as unknown as (asked: AlarmCase) => Hits)(asked);
};

/** A time on end during which an alarm held. */
interface Episode {
  readonly entries: readonly { readonly kept: Kept; readonly hit: Hit; readonly at_ms: number }[];
  readonly stands: boolean;
}

/** Answers in order; where it could not be judged it neither begins nor ends. */
function episodesOf(answers: readonly { kept: Kept; at_ms: number; hit: Hit | null | undefined }[]): Episode[] {
  const judged = answers.filter((a) => a.hit !== undefined);
  const runs: (typeof judged)[] = [];
  judged.forEach((answer, i) => {
    if (answer.hit === null) return;
    if (i > 0 && judged[i - 1]!.hit !== null) runs.at(-1)!.push(answer);
    else runs.push([answer]);
  });
  return runs.map((run) => ({
    entries: run.map(({ kept, at_ms, hit }) => ({ kept, at_ms, hit: hit! })),
    stands: run.at(-1) === judged.at(-1),
  }));
}

function heatFacts(view: View, heat: Heat): Fact[] {
  return view.memo.get(`alarms/${heat.plan.id}`, () => {
    // Asked of the view again, so that this is taken back with the next round.
    const asked = heatOf(view, heat.plan)!;
    const moments = momentsOf(view, asked);
    return view.plan.alarms.flatMap((alarm) => {
      const subjects = heldOf(moments, alarm);
      return [...subjects].flatMap((of) =>
        episodesOf(
          moments.map((m) => ({ kept: m.kept as unknown as Kept, at_ms: m.at_ms, hit: m.hits.get(alarm.id)?.get(of) })),
        ).map((episode) => factOf(alarm, of, asked, episode)),
      );
    });
  });
}

/** What an alarm held for at least once. */
function heldOf(moments: readonly Moment[], { id }: Alarm): ReadonlySet<string> {
  const held = new Set<string>();
  for (const { hits } of moments) for (const [of, hit] of hits.get(id) ?? []) if (hit !== null) held.add(of);
  return held;
}

function levelFacts(view: View, operation: string): Fact[] {
  return view.plan.alarms.flatMap((alarm) => {
    const { watch } = alarm;
    if (watch?.on !== 'level') return [];
    return [...levelAnswers(view, operation, alarm, watch)].flatMap(([station, answers]) =>
      episodesOf(answers.map((a) => ({ kept: a.kept as unknown as Kept, at_ms: a.at_ms, hit: a.hit }))).map(
        (episode): Fact => ({
          ...factOf(alarm, station, null, episode, stationLabel(view, watch.characteristic, station)),
          operation,
          characteristic: watch.characteristic,
          station,
        }),
      ),
    );
  });
}

function factOf(alarm: Alarm, of: string, heat: Heat | null, { entries, stands }: Episode, name = of): Fact {
  const first = entries[0]!;
  const { hit } = entries.reduce((a, b) => (b.hit.excess > a.hit.excess ? b : a));
  const count = entries.length;
  const since = heat
    ? ` It began ${((first.at_ms - heat.start_ms) / HOUR_MS).toFixed(1)} h into heat ${heat.plan.id} and held in ${count} ${count === 1 ? 'round' : 'rounds'}.`
    : ` It held at ${count} ${count === 1 ? 'reading' : 'readings'}.`;
  const severity = severityOf(alarm, count);
  return {
    rule: 'alarm',
    // The first entry names it: while it goes on, what was decided on it is asked again, since it has a new cause.
    subject: [alarm.id, of, first.kept.hash],
    operation: (first.kept.body as { operation: string }).operation,
    severity,
    blocks: alarm.blocks ?? null,
    title: `Alarm ${alarm.id}: ${titleOf(alarm, name)}${count > 1 ? `, ${count} ${heat ? 'rounds' : 'readings'} on end` : ''}`,
    words: `${hit.words}${since}${alarm.call ? ` Call ${alarm.call}.` : ''} ${ALARM_ADVICE}`,
    causes: entries.map((e) => e.kept.hash),
    settled: false,
    alarm: {
      id: alarm.id,
      owner: alarm.owner ?? null,
      call: alarm.call ?? null,
      heatPlan: heat?.plan.id ?? null,
      stands,
      lines: hit.lines,
      ...(hit.worked ? { worked: hit.worked } : {}),
    },
  };
}

const titles: { readonly [On in AlarmWatch['on']]: (of: string) => string } = {
  band: () => 'outside band or spread',
  rate: () => 'rate beyond the plan',
  cooling: () => 'glass cools too fast',
  junction: (of) => `reference junction ${of}`,
  spin: () => 'rate of spin outside while glass is hot',
  power: (of) => `power of ${of} off its own mean`,
  rise: () => 'temperature rises in the slow range',
  level: (of) => `level falls after it had settled, ${of}`,
};

const titleOf = ({ watch }: Alarm, of: string): string => titles[watch!.on](of);

/** Outside once is a warning; from the round on that the plan names it is red. */
function severityOf({ watch, severity = 'major' }: Alarm, count: number): Fact['severity'] {
  return watch?.on === 'band' && count < watch.redFrom ? 'minor' : severity;
}
