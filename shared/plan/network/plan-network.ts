import type { Link } from '../../calculations/numeric/plan-network.ts';
import { calendars as usual } from '../content/calendars.ts';
import type { Hold, Operation, Plan } from '../schema.ts';
import { hoursToMs, roundTheClock, ShiftTime, type WorkingTime } from './working-time.ts';
import { dayOfDate, type ZoneDays } from './zone-days.ts';

/** Work that was done before day 1 of a casting still finds its shifts. */
const DAYS_BEFORE = 60;

export type Calendars = Readonly<Record<Operation['calendar'], WorkingTime>>;

/** The calendars of a plan in the casting's time zone; a plan that says nothing of its shifts has the usual ones. */
export function calendarsOf(plan: Plan, zone: ZoneDays, dayOne: string): Calendars {
  const { day, two, freeDays: dates } = plan.calendars ?? usual;
  const freeDays = new Set(dates.map(dayOfDate));
  const first = dayOfDate(dayOne) - DAYS_BEFORE;
  return {
    day: new ShiftTime({ ...day, freeDays }, zone, first),
    two: new ShiftTime({ ...two, freeDays }, zone, first),
    clock: roundTheClock,
  };
}

/** A node of a plan's network: an operation, or a hold point as a milestone. */
export type PlanNode = { readonly operation: Operation } | { readonly hold: Hold };

export const nodeId = (node: PlanNode): string => ('hold' in node ? node.hold.id : node.operation.id);

/** The operations and hold points of a plan in an order for lists, and the links between them by place. */
export function networkOf(plan: Plan): { nodes: PlanNode[]; links: Link[] } {
  const nodes: PlanNode[] = [
    ...plan.operations.map((operation) => ({ operation })),
    ...plan.holds.map((hold) => ({ hold })),
  ];
  const places = new Map(nodes.map((node, k) => [nodeId(node), k]));
  const link = (from: string, to: string, type: Link['type'], lag_h: number): Link[] => {
    const [a, b] = [places.get(from), places.get(to)];
    return a === undefined || b === undefined ? [] : [{ from: a, to: b, type, lag: hoursToMs(lag_h) }];
  };
  const between = plan.operations.flatMap((o) => o.after.flatMap((l) => link(l.id, o.id, l.type, l.lag_h)));
  const gates = plan.holds.flatMap((hold) => [
    ...[...new Set([hold.after, ...hold.operations])].flatMap((id) =>
      link(id, hold.id, 'FS', id === hold.after ? waitBefore(plan, hold) : 0),
    ),
    ...hold.before.flatMap((id) => link(hold.id, id, 'FS', 0)),
  ]);
  return { nodes, links: [...between, ...gates] };
}

/** Hours that must pass before a hold point because the work behind it waits for them, e.g. a cure: part of its evidence. */
const waitBefore = (plan: Plan, hold: Hold): number =>
  Math.max(
    0,
    ...plan.operations
      .filter((o) => hold.before.includes(o.id))
      .flatMap((o) => o.after.filter((l) => l.id === hold.after && l.type === 'FS').map((l) => l.lag_h)),
  );
