import { type Activity, type Scheduled, scheduleWithCalendars } from '../../plan/network/calendar-network.ts';
import { type Calendars, calendarsOf, networkOf, nodeId, type PlanNode } from '../../plan/network/plan-network.ts';
import { hoursToMs } from '../../plan/network/working-time.ts';
import { dayOfDate, ZoneDays } from '../../plan/network/zone-days.ts';
import type { Plan } from '../../plan/schema.ts';
import { holdState } from './holds.ts';
import { firstWork, mark } from './sequence.ts';
import type { View } from './view.ts';

/** Where an operation or a hold point stands in time. Instants are ms since 1970, spans elapsed ms. */
export interface InTime {
  readonly id: string;
  readonly progress: 'done' | 'under-way' | 'ahead';
  /** As revision 1 of the plan has it; null for what came with a later revision. */
  readonly planned: Scheduled | null;
  /** What was, and what is forecast from it. */
  readonly forecast: Scheduled;
  /** How much later than planned it finished or is forecast to finish; negative for earlier. */
  readonly slip_ms: number;
}

export interface Schedule {
  readonly start_ms: number;
  /** The end of the whole: as planned, as forecast. */
  readonly plannedFinish_ms: number;
  readonly finish_ms: number;
  readonly slip_ms: number;
  readonly operations: readonly InTime[];
  readonly holds: readonly InTime[];
}

interface Baseline {
  readonly start_ms: number;
  readonly finish_ms: number;
  readonly dates: ReadonlyMap<string, Scheduled>;
}

/** The casting in time at an instant: the first plan, what happened, and what follows from it for all that is left. */
export function scheduleAt(view: View, now_ms: number): Schedule {
  const planned = baseline(view);
  const { nodes, links } = networkInForce(view);
  const calendars = calendarsInForce(view);
  const activities = nodes.map((node) => activityOf(node, calendars, actual(view, node)));
  // A hold point stops no work that has begun: that runs on, flagged.
  const binding = links.filter(({ from, to }) => !('hold' in nodes[from]!) || activities[to]!.started_ms === null);
  const forecast = scheduleWithCalendars(activities, binding, { start_ms: planned.start_ms, now_ms });
  const inTime = nodes.map((node, k): InTime => {
    const first = planned.dates.get(nodeId(node)) ?? null;
    const { started_ms, finished_ms } = activities[k]!;
    const dates = forecast.dates[k]!;
    return {
      id: nodeId(node),
      progress: finished_ms !== null ? 'done' : started_ms !== null ? 'under-way' : 'ahead',
      planned: first,
      forecast: dates,
      slip_ms: first ? dates.finish_ms - first.finish_ms : 0,
    };
  });
  return {
    start_ms: planned.start_ms,
    plannedFinish_ms: planned.finish_ms,
    finish_ms: forecast.finish_ms,
    slip_ms: forecast.finish_ms - planned.finish_ms,
    operations: inTime.filter((_, k) => 'operation' in nodes[k]!),
    holds: inTime.filter((_, k) => 'hold' in nodes[k]!),
  };
}

/** Revision 1 of the plan, begun on day 1 of the casting and never waiting for a signature. */
const baseline = (view: View): Baseline =>
  view.memo.get('baseline', () => {
    const { planHash } = view.genesis;
    return plannedFrom(view.plans.get(planHash) ?? view.plan, view.genesis);
  });

/** The dates of a plan that is begun on a date. */
export function plannedFrom(plan: Plan, { dayOne, timeZone }: { dayOne: string; timeZone: string }): Baseline {
  const zone = new ZoneDays(timeZone);
  const calendars = calendarsOf(plan, zone, dayOne);
  const start_ms = zone.at(dayOfDate(dayOne), 0);
  const { nodes, links } = networkOf(plan);
  const activities = nodes.map((node) => activityOf(node, calendars, NOTHING));
  const { finish_ms, dates } = scheduleWithCalendars(activities, links, { start_ms, now_ms: null });
  return { start_ms, finish_ms, dates: new Map(nodes.map((node, k) => [nodeId(node), dates[k]!])) };
}

const networkInForce = (view: View): ReturnType<typeof networkOf> =>
  view.memo.get('network in force', () => networkOf(view.plan));

const calendarsInForce = (view: View): Calendars =>
  view.memo.get('calendars in force', () =>
    calendarsOf(view.plan, new ZoneDays(view.genesis.timeZone), view.genesis.dayOne),
  );

type Actual = Pick<Activity, 'started_ms' | 'finished_ms'>;
const NOTHING: Actual = { started_ms: null, finished_ms: null };

/** A hold point takes no time of its own: it waits for what stands before it, and for its signatures. */
const activityOf = (node: PlanNode, calendars: Calendars, was: Actual): Activity =>
  'hold' in node
    ? { id: node.hold.id, work_ms: 0, time: calendars.clock, ...was }
    : {
        id: node.operation.id,
        work_ms: hoursToMs(node.operation.hours),
        time: calendars[node.operation.calendar],
        ...was,
      };

/** What the log tells: first work and the finish that a lead called; for a hold point its last signature. */
function actual(view: View, node: PlanNode): Actual {
  if ('hold' in node) {
    const { status, signatures } = holdState(view, node.hold);
    if (status !== 'released') return NOTHING;
    return { started_ms: null, finished_ms: Math.max(...signatures.map((s) => observed(s.release))) };
  }
  const begun = firstWork(view, node.operation.id);
  const finished = mark(view, node.operation.id, 'finished');
  return { started_ms: begun && observed(begun), finished_ms: finished && observed(finished) };
}

const observed = ({ entry }: { entry: { observedAt: string } }): number => Date.parse(entry.observedAt);
