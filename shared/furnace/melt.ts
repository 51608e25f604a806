import { given, type WorkingLine, workedOut } from '../calculations/calculation.ts';
import { conformity } from '../calculations/conformity.ts';
import { settling } from '../calculations/settling.ts';
import type { Verdict } from '../logbook/kinds.ts';
import type { Kept } from '../logbook/log.ts';
import { currentValue, stationStates } from '../logbook/state/readings.ts';
import type { View } from '../logbook/state/view.ts';
import { characteristicById, limitsAt, SINGLE_STATION, stationsOf } from '../plan/lookup.ts';
import type { HeatPlan, Plan, Station } from '../plan/schema.ts';
import { figureOf } from './figure-of.ts';
import type { WorkedBy } from './heat-figures.ts';

const HOUR_MS = 3_600_000;
export const MELT_LEVEL = 'melt-level';
/** The fit asks for so many. */
const LEAST_READINGS = 5;
/** As the alarm of a leak has it where the plan has none. */
const SETTLED_MM = 0.5;

/** One level that somebody read. */
export interface LevelPoint {
  readonly at_ms: number;
  readonly level_mm: number;
  readonly reading: Kept<'reading'>;
}

export type PortState = 'not read' | 'too few' | 'still falling' | 'settled' | 'rising' | 'no curve yet';

/** The level at one port through the melt. */
export interface Port {
  readonly station: Station;
  /** Oldest first. */
  readonly points: readonly LevelPoint[];
  readonly state: PortState;
  /** What the state rests on, in words. */
  readonly words: string;
  readonly fit: ReturnType<typeof settling.compute> | null;
  readonly fitBy: WorkedBy | null;
  /** From the fit: the level at an instant; null where no curve fits. */
  readonly curve: ((at_ms: number) => number) | null;
  /** Where it comes to rest, as far as can be told: the fit's, else the last that was read. */
  readonly final_mm: number | null;
}

export interface MeltNow {
  readonly operation: string;
  readonly ports: readonly Port[];
  readonly settled: boolean;
  /** Greatest less least of the newest reading at each port, where two or more are read. */
  readonly apart_mm: number | null;
  readonly apartLimit_mm: number | null;
  readonly account: Account | null;
  /** Face and core tops at the wall, mm above the floor, cold. */
  readonly edge_mm: number;
  readonly coreTop_mm: number;
}

/** The glass that stands in the mould against what was loaded. */
export interface Account {
  readonly level_mm: number;
  readonly expected_mm: number;
  readonly off_mm: number;
  readonly verdict: Verdict;
  readonly limit_mm: number;
  readonly loaded_kg: number;
  /** True where nobody recorded the mass loaded: the plan's is used. */
  readonly planned: boolean;
  /** In the mould by its level, and what of the load is not. */
  readonly standing_kg: number;
  readonly missing_kg: number;
  readonly lines: readonly WorkingLine[];
}

/** The operation of a heat in which the level is watched. */
export const meltOperation = (plan: Plan, heat: HeatPlan): string | undefined =>
  heat.operations.find((o) => characteristicById(plan, MELT_LEVEL)?.operations.includes(o));

/** The melt as its levels tell it; null where the plan has none. */
export function meltNow(view: View, operation: string): MeltNow | null {
  const characteristic = characteristicById(view.plan, MELT_LEVEL);
  if (!characteristic?.operations.includes(operation)) return null;
  return view.memo.get(`melt/${operation}`, () => {
    const { plan } = view;
    const ports = stationsOf(plan, characteristic).map((station) => portOf(view, operation, station));
    const newest = ports.flatMap((p) => p.points.at(-1)?.level_mm ?? []);
    const edge_mm = plan.design.centre_thickness_mm + sag_mm(plan);
    return {
      operation,
      ports,
      settled: ports.length > 0 && ports.every((p) => p.state === 'settled'),
      apart_mm: newest.length > 1 ? Math.max(...newest) - Math.min(...newest) : null,
      apartLimit_mm: limitsAt(plan, 'level-agreement', operation, SINGLE_STATION.id).upper,
      account: accountOf(view, operation, ports),
      edge_mm,
      coreTop_mm: edge_mm - plan.design.face_thickness_mm,
    };
  });
}

/** Depth of the face at its edge. */
const sag_mm = ({ design }: Plan): number => design.blank_diameter_mm ** 2 / (8000 * design.radius_of_curvature_m);

/** What may still remain of a level that is called settled. */
export function settledLimit_mm(plan: Plan): number {
  const watch = plan.alarms.map((a) => a.watch).find((w) => w?.on === 'level');
  return watch?.on === 'level' ? watch.settled_mm : SETTLED_MM;
}

function portOf(view: View, operation: string, station: Station): Port {
  const readings = stationStates(view, operation, MELT_LEVEL).get(station.id)?.current ?? [];
  const points = readings
    .map((reading) => ({
      at_ms: Date.parse(reading.entry.observedAt),
      level_mm: reading.body.value,
      reading,
    }))
    .sort((a, b) => a.at_ms - b.at_ms);
  return { station, points, ...settlingOf(points, settledLimit_mm(view.plan)) };
}

/** How a level moves, from its readings at one port. */
export function settlingOf(
  points: readonly Pick<LevelPoint, 'at_ms' | 'level_mm'>[],
  settled_mm: number,
): Omit<Port, 'station' | 'points'> {
  const last = points.at(-1);
  const none = { fit: null, fitBy: null, curve: null, final_mm: last?.level_mm ?? null };
  if (!last) return { ...none, state: 'not read', words: 'not read yet' };
  if (points.length < LEAST_READINGS || new Set(points.map((p) => p.at_ms)).size < 3)
    return {
      ...none,
      state: 'too few',
      words: `${points.length} of the ${LEAST_READINGS} readings that a curve needs`,
    };
  const first_ms = points[0]!.at_ms;
  const input = {
    readings: points.map((p) => ({ at_h: (p.at_ms - first_ms) / HOUR_MS, level_mm: p.level_mm })),
    settled_mm,
  };
  const fit = settling.compute(input);
  const fitBy = { calculation: settling.name, input };
  if (fit.final_level_mm === null || fit.time_constant_h === null || fit.remaining_mm === null) {
    const rising = fit.reason === 'the level rises';
    const rate = `${Math.abs(fit.rate_mm_h ?? 0).toFixed(1)} mm/h`;
    return {
      ...none,
      fit,
      fitBy,
      state: rising ? 'rising' : 'no curve yet',
      words: rising
        ? `it rises at ${rate}`
        : `${fit.reason}; ${(fit.rate_mm_h ?? 0) < 0 ? 'falling' : 'moving'} at ${rate}`,
    };
  }
  const { final_level_mm, time_constant_h, remaining_mm } = fit;
  return {
    fit,
    fitBy,
    state: fit.settled ? 'settled' : 'still falling',
    words: `${remaining_mm.toFixed(1)} mm left to fall, time constant ${time_constant_h.toFixed(1)} h`,
    curve: (at_ms) => final_level_mm + remaining_mm * Math.exp((last.at_ms - at_ms) / HOUR_MS / time_constant_h),
    final_mm: final_level_mm,
  };
}

/** The glass accounted for, once every port has been read. */
function accountOf(view: View, operation: string, ports: readonly Port[]): Account | null {
  const { plan } = view;
  const finals = ports.flatMap((p) => p.final_mm ?? []);
  const limits = limitsAt(plan, 'level-against-mass', operation, SINGLE_STATION.id);
  const expected = characteristicById(plan, MELT_LEVEL)!;
  const hot_mm = limitsAt(plan, expected.id, operation, ports[0]?.station.id ?? '').nominal;
  const figure = (id: string) => plan.derived.find((d) => d.id === id)?.value;
  const [blank_kg, kg_mm] = [figure('blank-mass'), figure('mass-per-mm-of-face')];
  if (finals.length < ports.length || finals.length === 0 || hot_mm === null || limits.upper === null) return null;
  if (blank_kg === undefined || kg_mm === undefined) return null;
  const read_kg = currentValue(stationStates(view, '8.2', 'mass-loaded').get(SINGLE_STATION.id));
  const loaded_kg = read_kg ?? figure('mass-to-load') ?? blank_kg;
  const kept_kg = loaded_kg / (1 + plan.design.glass_allowance);
  const level_mm = finals.reduce((a, b) => a + b, 0) / finals.length;
  const expected_mm = hot_mm + (kept_kg - blank_kg) / kg_mm;
  const off_mm = level_mm - expected_mm;
  const { verdict } = conformity.compute({
    value: off_mm,
    standard_uncertainty: characteristicById(plan, 'level-against-mass')?.uncertainty ?? 0,
    lower_limit: limits.lower ?? undefined,
    upper_limit: limits.upper,
  });
  return {
    level_mm,
    expected_mm,
    off_mm,
    verdict,
    limit_mm: limits.upper,
    loaded_kg,
    planned: read_kg === null,
    standing_kg: kept_kg + off_mm * kg_mm,
    missing_kg: -off_mm * kg_mm,
    lines: [
      given('M', 'glass loaded', loaded_kg, 'kg', read_kg === null ? 'plan: nobody recorded it' : 'log, operation 8.2'),
      given('a', 'part of it that soaks in, evaporates or stays as skin', plan.design.glass_allowance, '–', 'design'),
      workedOut(
        'M_k',
        'should stand in the mould',
        kept_kg,
        'kg',
        `${loaded_kg} / (1 + ${plan.design.glass_allowance})`,
      ),
      given('M_b', 'mass of the blank', blank_kg, 'kg', 'plan, from the design'),
      given('m', 'glass for 1 mm of face', kg_mm, 'kg/mm', 'plan, from the design'),
      given(
        'h_0',
        'hot level at the wall with just that',
        hot_mm,
        'mm',
        'plan: edge of the blank, and what hot glass takes more',
      ),
      workedOut(
        'h_e',
        'level that the load should give',
        expected_mm,
        'mm',
        `${hot_mm} + (${kept_kg.toFixed(1)} − ${blank_kg.toFixed(1)}) / ${kg_mm.toFixed(2)}`,
      ),
      workedOut(
        'h',
        'level at rest',
        level_mm,
        'mm',
        `mean of ${finals.map((f) => f.toFixed(1)).join(', ')}`,
        'settling at each port',
      ),
      workedOut('off', 'in mm of face', off_mm, 'mm', `${level_mm.toFixed(2)} − ${expected_mm.toFixed(2)}`),
      workedOut(
        'ΔM',
        'in glass, more is positive',
        off_mm * kg_mm,
        'kg',
        `${figureOf(off_mm, 2)} · ${kg_mm.toFixed(2)}`,
      ),
    ],
  };
}

/** What a level that does not close with the mass can mean; the likeliest first. */
export function levelMeanings({ account, settled, apart_mm, apartLimit_mm, ports }: MeltNow): string[] {
  const tilt =
    apart_mm !== null && apartLimit_mm !== null && apart_mm > apartLimit_mm
      ? [
          'The ports differ by more than the limit: the rate of spin is off or uneven, the table is not level, or one mark was misread. Time the rate and read all four again before anything else.',
        ]
      : [];
  const again = ports.some((p) => p.state === 'rising')
    ? [
        'A level that rises: bubbles under the face, or a core that has come loose and pushes glass up. Look through every port.',
      ]
    : [];
  if (!account || account.verdict === 'within') return [...tilt, ...again];
  if (account.off_mm < 0)
    return [
      ...tilt,
      ...again,
      'Too low, leak: glass has gone through a joint of the tub or a floor drain channel. Look for it from outside only, at the ports, the bands and the floor channels.',
      'Too low, floating core: one that has broken its pin stands out of the glass and takes less room in it. Look for a bright hexagon or a dip.',
      'Too low, soaked in: glass has gone into cores or liner further than allowed for, or less was loaded than was written.',
    ];
  return [
    ...tilt,
    ...again,
    ...(settled
      ? []
      : [
          'Too high, not full yet: gaps in a colder zone still fill. Compare the zones and wait, within the longest soak.',
        ]),
    'Too high, void: air is shut in under a core or in a rib. It shows as a bubble that will not rise, or not at all until the blank is opened.',
    'Too high, bubbles or foam under the face: count them again in an hour.',
    'Too high, wider cores or a narrower tub than surveyed, or more glass loaded than was written.',
  ];
}
