import { RefusedInput } from '../../calculations/calculation.ts';
import { circleFit } from '../../calculations/circle-fit.ts';
import { conformity } from '../../calculations/conformity.ts';
import { planeFit } from '../../calculations/plane-fit.ts';
import { characteristicById, limitsAt, limitsFor, stationsOf } from '../../plan/lookup.ts';
import type { Characteristic, Plan, Station } from '../../plan/schema.ts';
import type { Verdict } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { alarmFacts } from './alarm-facts.ts';
import { levelsLeft } from './alarm-level.ts';
import { fastestDay, pairDifferences, throughDifferences } from './anneal-derived.ts';
import { arrangementFacts } from './arrangement-facts.ts';
import { behindDoubt } from './behind-doubt.ts';
import { lackedBy } from './carried.ts';
import { readBefore } from './change-between.ts';
import { checkFacts } from './check-facts.ts';
import { coreHeightChanges, faceThicknesses, gapMean } from './core-derived.ts';
import { coreSample } from './core-sample.ts';
import { type DerivedValue, type Judge, RANGE, type Raw } from './derived-value.ts';
import { limitsOfReading, planOfReadings } from './judged-limits.ts';
import { lateSheets } from './late-sheets.ts';
import { finishedShort } from './left-undone.ts';
import { orderFacts } from './order-facts.ts';
import { anotherInstrument } from './pair-instruments.ts';
import { stationStates } from './readings.ts';
import { roundFacts } from './round-facts.ts';
import { roundsMet } from './rounds-met.ts';
import type { View } from './view.ts';

interface Point {
  readonly station: Station;
  readonly reading: Kept<'reading'>;
}
/** A value, and the calculation behind it where one has a name. */
type Worked = { value: number; worked?: NonNullable<DerivedValue['worked']> };
type Derivation = (view: View, operation: string) => Raw[];

/** Every station of a measured characteristic with the reading that stands, or null while one is missing. */
function complete(view: View, operation: string, characteristic: string): Point[] | null {
  const planned = view.plan.characteristics.find((c) => c.id === characteristic);
  if (!planned) return null;
  const states = stationStates(view, operation, characteristic);
  const points = stationsOf(view.plan, planned).map((station) => ({
    station,
    reading: states.get(station.id)?.current.at(-1),
  }));
  return points.every((p): p is Point => p.reading !== undefined) ? points : null;
}

const values = (points: readonly Point[]): number[] => points.map((p) => p.reading.body.value);
const hashes = (points: readonly Point[]): string[] => points.map((p) => p.reading.hash);

function single(view: View, operation: string, characteristic: string, work: (points: Point[]) => Worked): Raw[] {
  const points = complete(view, operation, characteristic);
  return points ? [{ station: 'one', ...work(points), causes: hashes(points) }] : [];
}

function byHeight(view: View, operation: string, characteristic: string, work: (points: Point[]) => Worked): Raw[] {
  const points = complete(view, operation, characteristic);
  if (!points) return [];
  const heights = [...new Set(points.map((p) => p.station.height_mm!))].sort((a, b) => a - b);
  return heights.map((height) => {
    const ring = points.filter((p) => p.station.height_mm === height);
    return { station: `h${height}`, ...work(ring), causes: hashes(ring) };
  });
}

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

const ringInput = (ring: readonly Point[]) => ({
  points: ring.map(({ station, reading }): [number, number] => [
    reading.body.value * Math.cos(radians(station.angle_deg!)),
    reading.body.value * Math.sin(radians(station.angle_deg!)),
  ]),
});

const floorInput = (points: readonly Point[]) => ({
  points: points.map(({ station, reading }): [number, number, number] => [
    station.x_mm!,
    station.y_mm!,
    reading.body.value,
  ]),
});

/** A value that a fit of the ring's readings gives. */
function ofRing(ring: readonly Point[], take: (fit: ReturnType<typeof circleFit.compute>) => number): Worked {
  const input = ringInput(ring);
  return { value: take(circleFit.compute(input)), worked: { calculation: circleFit.name, input } };
}

/** A value that a plane through the floor's readings gives. */
function ofFloor(points: readonly Point[], take: (fit: ReturnType<typeof planeFit.compute>) => number): Worked {
  const input = floorInput(points);
  return { value: take(planeFit.compute(input)), worked: { calculation: planeFit.name, input } };
}

/** Station by station, what a later survey found more than the one before it. */
function changes(view: View, operation: string, characteristic: string): Raw[] {
  const measured = characteristicById(view.plan, characteristic);
  const baseline = measured ? readBefore(measured, operation) : null;
  if (baseline === null) return [];
  const before = stationStates(view, baseline, characteristic);
  return [...stationStates(view, operation, characteristic)].flatMap(([station, { current }]) => {
    const now = current.at(-1);
    const then = before.get(station)?.current.at(-1);
    return now && then ? [{ station, value: now.body.value - then.body.value, causes: [then.hash, now.hash] }] : [];
  });
}

function meanChange(view: View, operation: string, characteristic: string): Raw[] {
  const all = changes(view, operation, characteristic);
  const planned = view.plan.characteristics.find((c) => c.id === characteristic);
  if (!planned || all.length < stationsOf(view.plan, planned).length) return [];
  return [
    {
      station: 'one',
      value: all.reduce((sum, c) => sum + c.value, 0) / all.length,
      causes: all.flatMap((c) => c.causes),
    },
  ];
}

const derivations: Readonly<Record<string, Derivation>> = {
  'tub-permanent-change': (view, operation) => changes(view, operation, 'tub-diameter-20'),
  'tub-mean-change': (view, operation) => meanChange(view, operation, 'tub-diameter-20'),
  'tub-roundness': (view, operation) =>
    byHeight(view, operation, 'tub-radius', (r) => ofRing(r, (fit) => fit.minimum_zone.roundness_mm)),
  'tub-centre-offset': (view, operation) =>
    byHeight(view, operation, 'tub-radius', (r) =>
      ofRing(r, ({ least_squares: { x_mm, y_mm } }) => Math.hypot(x_mm, y_mm)),
    ),
  'tub-wall-taper': (view, operation) =>
    single(view, operation, 'tub-diameter-20', (points) => {
      const means = [...new Set(points.map((p) => p.station.height_mm))].map((h) => {
        const ring = values(points.filter((p) => p.station.height_mm === h));
        return ring.reduce((a, b) => a + b, 0) / ring.length;
      });
      return { value: Math.max(...means) - Math.min(...means) };
    }),
  'floor-flatness': (view, operation) =>
    single(view, operation, 'floor-level', (p) => ofFloor(p, (fit) => fit.flatness_minimum_zone_mm)),
  'floor-tilt': (view, operation) =>
    single(view, operation, 'floor-level', (p) => ofFloor(p, (fit) => fit.tilt_mm_per_m)),
  'gap-mean': gapMean,
  'core-height-change': coreHeightChanges,
  'face-sheet-thickness': faceThicknesses,
  'level-remaining': levelsLeft,
  'anneal-rate': fastestDay,
  'cool-rate': fastestDay,
  'through-difference': throughDifferences,
  'pair-difference': pairDifferences,
};

/** Whether values of this characteristic are worked out from other readings; else it is measured. */
export const isWorkedOut = (characteristic: string): boolean => Object.hasOwn(derivations, characteristic);

const derive: Judge['derive'] = (view, characteristic, operation) => {
  const work = derivations[characteristic];
  const planned = view.plan.characteristics.find((c) => c.id === characteristic);
  if (!work || !planned) return null;
  return view.memo.get(`derived/${operation}/${characteristic}`, () =>
    tried(() => work(view, operation)).map((raw) => judgedValue(view, planned, operation, raw)),
  );
};

/** A method may refuse degenerate readings; then there is no value, and the requirement stays unmet. */
function tried(work: () => Raw[]): Raw[] {
  try {
    return work();
  } catch (error) {
    if (error instanceof RefusedInput) return [];
    throw error;
  }
}

function judgedValue(view: View, characteristic: Characteristic, operation: string, raw: Raw): DerivedValue {
  const limits = limitsAt(planOfReadings(view, raw.causes), characteristic.id, operation, raw.station);
  const standardUncertainty = characteristic.uncertainty ?? 0;
  return {
    ...raw,
    limits,
    standardUncertainty,
    verdict: judgeValue(raw.value, standardUncertainty, limits.lower, limits.upper),
  };
}

function judgeValue(
  value: number,
  standard_uncertainty: number,
  lower: number | null,
  upper: number | null,
): Verdict | null {
  if (lower === null && upper === null) return null;
  return conformity.compute({
    value,
    standard_uncertainty,
    ...(lower === null ? {} : { lower_limit: lower }),
    ...(upper === null ? {} : { upper_limit: upper }),
  }).verdict;
}

const range: Judge['range'] = (view, characteristic, operation) => {
  const planned = characteristicById(view.plan, characteristic);
  const mostIn = (plan: Plan) => limitsFor(characteristicById(plan, characteristic)!, operation)?.range;
  const limited = planned && view.line.some(({ plan }) => characteristicById(plan, characteristic) && mostIn(plan));
  const points = limited ? complete(view, operation, characteristic) : null;
  const most = points ? mostIn(planOfReadings(view, hashes(points))) : undefined;
  if (!points || most === undefined) return null;
  const all = values(points);
  const value = Math.max(...all) - Math.min(...all);
  // A difference of two readings carries the uncertainty of both.
  const standardUncertainty = Math.SQRT2 * (planned?.uncertainty ?? 0);
  const verdict = judgeValue(value, standardUncertainty, null, most);
  return {
    station: RANGE,
    value,
    standardUncertainty,
    limits: { nominal: 0, lower: null, upper: most },
    verdict,
    causes: hashes(points),
  };
};

export const judge: Judge = {
  limits: limitsOfReading,
  verdict: judgeValue,
  derive,
  range,
  sample: (view, characteristic, operation) => coreSample(view, characteristic, operation)?.stations ?? null,
  rounds: roundsMet,
  lackedBy,
  roundFacts: (view, operation) => [...roundFacts(view, operation), ...alarmFacts(view, operation)],
  orderFacts: (view, operation) => [
    ...orderFacts(view, operation),
    ...behindDoubt(view, operation),
    ...finishedShort(view, operation),
    ...lateSheets(view, operation),
    ...anotherInstrument(view, operation),
  ],
  arrangementFacts,
  checkFacts,
};
