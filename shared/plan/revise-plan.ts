import type { Limits, Plan } from './schema.ts';

/** A figure of a plan that a process engineer may set anew. */
export interface PlanFigure {
  /** Where it stands in the plan, e.g. `characteristics/tub-diameter-20/limits/0/upper`. */
  readonly path: string;
  readonly what: string;
  readonly unit: string;
  /** Null: nothing limits it on this side. */
  readonly value: number | null;
  readonly mayBeEmpty: boolean;
  /** It lies above this; null where any figure will do. */
  readonly above: number | null;
}

/** What is revised together: the limits of one characteristic, the hours of one operation, one segment of a heat, one witness point. */
export interface PlanItem {
  readonly id: string;
  readonly kind: 'limits' | 'hours' | 'heat' | 'notice';
  readonly name: string;
  /** Where it matters, in words. */
  readonly detail: string;
  readonly figures: readonly PlanFigure[];
}

/** Figures by their path; null takes a limit away. */
export type NewFigures = ReadonlyMap<string, number | null>;

/** What can be set anew in a plan without writing it anew, in the plan's order. */
export const planItems = (plan: Plan): readonly PlanItem[] => [
  ...plan.characteristics.filter((c) => c.limits.length > 0).map((c) => limitsItem(c)),
  ...plan.operations.map(
    (o): PlanItem => ({
      id: `operations/${o.id}`,
      kind: 'hours',
      name: `${o.id} ${o.name}`,
      detail: `calendar: ${CALENDARS[o.calendar]}`,
      figures: [figure(`operations/${o.id}/hours`, 'Planned working hours', 'h', o.hours, { above: 0 })],
    }),
  ),
  ...plan.heatPlans.flatMap(heatItems),
  ...plan.witnesses.map(
    (w): PlanItem => ({
      id: `witnesses/${w.id}`,
      kind: 'notice',
      name: `${w.id} ${w.name}`,
      detail: `operation ${w.operations.join(', ')}; told ahead: ${w.toldAhead}`,
      figures: [
        figure(`witnesses/${w.id}/notice_h`, 'Notice', 'h', w.notice_h, { above: 0 }),
        ...(w.secondNotice_h === undefined
          ? []
          : [figure(`witnesses/${w.id}/secondNotice_h`, 'Second notice', 'h', w.secondNotice_h, { above: 0 })]),
      ],
    }),
  ),
];

const CALENDARS = { day: 'day shift', two: 'two shifts', clock: 'round the clock' } as const;

const figure = (
  path: string,
  what: string,
  unit: string,
  value: number | null,
  { above = null, mayBeEmpty = false }: { above?: number | null; mayBeEmpty?: boolean } = {},
): PlanFigure => ({ path, what, unit, value, above, mayBeEmpty });

function limitsItem(c: Plan['characteristics'][number]): PlanItem {
  return {
    id: `characteristics/${c.id}`,
    kind: 'limits',
    name: c.name,
    detail: `${c.operations.length === 1 ? 'operation' : 'operations'} ${c.operations.join(', ')}`,
    figures: c.limits.flatMap((limits, i) => limitFigures(`characteristics/${c.id}/limits/${i}`, c.unit, limits)),
  };
}

function limitFigures(path: string, unit: string, limits: Limits): PlanFigure[] {
  const where = limits.operations ? ` in ${limits.operations.join(', ')}` : '';
  const one = (key: 'nominal' | 'lower' | 'upper', what: string) =>
    figure(`${path}/${key}`, `${what}${where}`, unit, limits[key], { mayBeEmpty: true });
  const extra = (['range', 'warnLower', 'warnUpper'] as const).flatMap((key) =>
    limits[key] === undefined ? [] : [figure(`${path}/${key}`, `${EXTRA[key]}${where}`, unit, limits[key])],
  );
  return [one('lower', 'Lower limit'), one('nominal', 'Nominal'), one('upper', 'Upper limit'), ...extra];
}

const EXTRA = {
  range: 'Greatest range over all stations',
  warnLower: 'Warning at or below',
  warnUpper: 'Warning at or above',
} as const;

/** A segment at a time: nobody sets twenty-four figures on one screen. */
const heatItems = (heat: Plan['heatPlans'][number]): PlanItem[] =>
  heat.segments.map((segment, i) => {
    const path = `heatPlans/${heat.id}/segments/${i}`;
    return {
      id: path,
      kind: 'heat',
      name: `${heat.id} ${heat.name}, segment ${i + 1}, ${segment.soak_h === undefined ? 'to' : 'soak at'} ${segment.to_C} °C`,
      detail: `operation ${heat.operations.join(', ')}`,
      figures: [
        ...wayFigures(path, segment),
        figure(`${path}/band_K`, 'Band about the plan, either way', 'K', segment.band_K, { above: 0 }),
        figure(`${path}/spread_K`, 'Greatest spread of the control channels', 'K', segment.spread_K, { above: 0 }),
        ...segment.rounds.map((r, k) =>
          figure(`${path}/rounds/${k}/every_h`, `A ${r.extent} round every`, 'h', r.every_h, { above: 0 }),
        ),
      ],
    };
  });

/** Where a segment goes and how fast; a soak stays where the ramp before it ended. */
function wayFigures(path: string, { to_C, rate_K_h, soak_h }: Segment): PlanFigure[] {
  if (soak_h !== undefined) return [figure(`${path}/soak_h`, 'Soak', 'h', soak_h, { above: 0 })];
  return [
    figure(`${path}/to_C`, 'To', '°C', to_C, { above: ABSOLUTE_ZERO_C }),
    figure(`${path}/rate_K_h`, 'Rate, up or down', 'K/h', rate_K_h!, { above: 0 }),
  ];
}

type Segment = Plan['heatPlans'][number]['segments'][number];
const ABSOLUTE_ZERO_C = -273.15;

/** A round more often than this is no round on foot; common practice, no source. */
const SHORTEST_INTERVAL_H = 0.05;

/** What is wrong with new figures, by path, in words; empty when a plan can be made of them. */
export function figureFaults(plan: Plan, figures: NewFigures): ReadonlyMap<string, string> {
  const faults = new Map<string, string>();
  for (const { path, value, above, mayBeEmpty, unit } of planItems(plan).flatMap((i) => i.figures)) {
    const wanted = figures.has(path) ? figures.get(path)! : value;
    if (!figures.has(path)) continue;
    if (wanted === null && !mayBeEmpty) faults.set(path, 'A figure is missing.');
    else if (wanted !== null && above !== null && wanted <= above)
      faults.set(path, `It must be above ${above} ${unit}.`);
    else if (path.endsWith('every_h') && wanted! < SHORTEST_INTERVAL_H)
      faults.set(path, `A round cannot be due more often than every ${SHORTEST_INTERVAL_H} h.`);
  }
  const next = revisePlan(plan, figures, plan.revision);
  for (const { id, start_C, segments } of next.heatPlans)
    segments.forEach(({ to_C, soak_h }, i) => {
      const path = `heatPlans/${id}/segments/${i}`;
      const from_C = i === 0 ? start_C : segments[i - 1]!.to_C;
      if (soak_h !== undefined || to_C !== from_C) return;
      const before = `heatPlans/${id}/segments/${i - 1}/to_C`;
      const words = `The segment begins at ${from_C} °C already: a ramp must go somewhere.`;
      if (figures.has(`${path}/to_C`)) faults.set(`${path}/to_C`, words);
      else if (figures.has(before)) faults.set(before, `The next segment ends at ${from_C} °C as well.`);
    });
  for (const c of next.characteristics)
    c.limits.forEach((limits, i) => {
      const path = `characteristics/${c.id}/limits/${i}`;
      const touched = (['lower', 'nominal', 'upper'] as const).filter((key) => figures.has(`${path}/${key}`));
      if (touched.length === 0) return;
      const { lower, nominal, upper } = limits;
      const say = (words: string) => faults.set(`${path}/${touched.at(-1)}`, words);
      if (lower !== null && upper !== null && lower > upper) say('The lower limit lies above the upper one.');
      else if (nominal !== null && lower !== null && nominal < lower) say('The nominal lies below the lower limit.');
      else if (nominal !== null && upper !== null && nominal > upper) say('The nominal lies above the upper limit.');
    });
  return faults;
}

/**
 * A plan with new figures, under a new name. A figure set by hand is no longer worked out from the design, and says so;
 * words that repeat a figure follow it.
 */
export function revisePlan(plan: Plan, figures: NewFigures, revision: string): Plan {
  const next = JSON.parse(JSON.stringify({ ...plan, revision })) as Plan;
  for (const { path, value } of planItems(plan).flatMap((i) => i.figures)) {
    const wanted = figures.get(path);
    if (wanted === undefined || wanted === value) continue;
    put(next, path, wanted);
    follow(next, path, revision);
  }
  return next;
}

function put(plan: Plan, path: string, value: number | null): void {
  const steps = path.split('/');
  const last = steps.pop()!;
  const at = steps.reduce<unknown>((here, step) => stepInto(here, step), plan);
  (at as Record<string, unknown>)[last] = value;
}

/** Lists are entered by the id of an item, or by its place where it has none. */
const stepInto = (here: unknown, step: string): unknown =>
  Array.isArray(here)
    ? (here.find((item: { id?: string }) => item.id === step) ?? here[Number(step)])
    : (here as Record<string, unknown>)[step];

function follow(plan: Plan, path: string, revision: string): void {
  const [list, id, , index, key] = path.split('/');
  if (list === 'witnesses') {
    const witness = plan.witnesses.find((w) => w.id === id)!;
    const second = witness.secondNotice_h === undefined ? '' : ` and ${witness.secondNotice_h} h`;
    (witness as { toldAhead: string }).toldAhead = `${witness.notice_h} h${second}`;
    return;
  }
  if (list === 'heatPlans' && path.endsWith('/to_C'))
    soaksFollow(plan.heatPlans.find((h) => h.id === id)!, Number(index));
  if (list !== 'characteristics') return;
  const characteristic = plan.characteristics.find((c) => c.id === id)!;
  const limits = characteristic.limits[Number(index)]!;
  // `derivation` is the nominal's, or the one limit's where there is no nominal.
  if (key === 'nominal' || limits.nominal === null) delete limits.derivation;
  if (key === 'lower') delete limits.lowerDerivation;
  if (key === 'upper') delete limits.upperDerivation;
  (characteristic as { source: string }).source = `plan revision ${revision}, set by hand`;
}

/** The soaks behind a ramp stay where it ends. */
function soaksFollow({ segments }: Plan['heatPlans'][number], ramp: number): void {
  for (let i = ramp + 1; segments[i]?.soak_h !== undefined; i++)
    (segments[i] as { to_C: number }).to_C = segments[ramp]!.to_C;
}

/** The name of the next revision: the number after the highest there is. */
export function nextRevision(plans: readonly Plan[]): string {
  const numbers = plans.map((p) => Number.parseInt(p.revision, 10)).filter((n) => !Number.isNaN(n));
  return String((numbers.length > 0 ? Math.max(...numbers) : plans.length) + 1);
}
