import type { Body } from '../../shared/logbook/kinds.ts';
import { judgeReading } from '../../shared/logbook/state/judge-reading.ts';
import { type Heat, heatOf } from '../../shared/logbook/state/rounds.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { HOUR_MS, iso, roundBody, START_MS, writeAt } from '../logbook/heat-world.ts';
import { type TestTablet, tablets, technician } from '../logbook/world.ts';

/** A casting of the practice plan whose heats are walked by hand. All figures are invented. */
export const plan = buildPlan(practiceDesign);
export const heatPlan = (id: string) => plan.heatPlans.find((p) => p.id === id)!;
export const at_ms = (hours: number): number => Math.round(START_MS + hours * HOUR_MS);
export const fresh = (): TestTablet => tablets(['A'], plan)[0]!;

/** Starts a heat whose hour 0 lies at `hour` of the test's own clock. */
export function start(tablet: TestTablet, heat: string, hour = 0): void {
  const body = { operation: heatPlan(heat).operations[0]!, mark: 'started', heat } as const;
  writeAt(tablet, 'operation', body, iso(at_ms(hour)));
}

export function walk(
  tablet: TestTablet,
  heat: string,
  hour: number,
  values: Readonly<Record<string, number>>,
  operation?: string,
): void {
  const readings = Object.entries(values).map(([channel, value]) => ({ channel, value, state: 'good' as const }));
  writeAt(tablet, 'round', roundBody(heatPlan(heat), { readings }, operation), iso(at_ms(hour)));
}

export const heatIn = (tablet: TestTablet, id: string): Heat => heatOf(tablet.view(), heatPlan(id))!;

/** All channels of some groups at one temperature. */
export const groups = (names: readonly string[], value: number): Record<string, number> =>
  Object.fromEntries(plan.channels.filter((c) => names.includes(c.group)).map((c) => [c.id, value]));

/** A reading judged as the tablet judges it; with `limits` false nothing limits it. */
export function read(
  tablet: TestTablet,
  hour: number,
  place: { operation: string; characteristic: string; station?: string },
  value: number,
  limits = true,
): string {
  const { operation, characteristic, station = 'one' } = place;
  const planned = plan.characteristics.find((c) => c.id === characteristic)!;
  const judged = judgeReading({ plan, operation, characteristic: planned, station, read: value, instrument: null });
  const body: Body<'reading'> = {
    operation,
    characteristic,
    station,
    typed: { text: String(value), unit: planned.unit, value },
    conditions: {},
    value,
    limits: limits ? { ...judged.limits } : { nominal: judged.limits.nominal, lower: null, upper: null },
    standardUncertainty: judged.standardUncertainty,
    guard: judged.guard,
    verdict: limits ? judged.verdict : null,
    plan: '0'.repeat(64),
    calculations: {},
    instrument: null,
    observer: technician.id,
    way: 'keypad',
  };
  return writeAt(tablet, 'reading', body, iso(at_ms(hour)));
}
