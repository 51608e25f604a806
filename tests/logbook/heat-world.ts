import { entryHash } from '../../shared/logbook/entry.ts';
import type { Body, Kind } from '../../shared/logbook/kinds.ts';
import { nextEntry } from '../../shared/logbook/write.ts';
import { type HeatPlan, type Plan, planSchema } from '../../shared/plan/schema.ts';
import { smallPlan } from './small-plan.ts';
import { type TestPerson, type TestTablet, technician } from './world.ts';

export const HOUR_MS = 3_600_000;
/** 06:00 UTC on a day without a change of clocks. */
export const START_MS = Date.UTC(2026, 4, 4, 6);

/** The plan for tests with heat plans of its own; their operations are made as well. */
export function planWithHeats(heatPlans: HeatPlan[], holds: Plan['holds'] = []): Plan {
  const operations = [...new Set(heatPlans.flatMap((p) => p.operations))].map((id) => ({
    ...smallPlan.operations[0]!,
    id,
    name: `operation ${id}`,
    heatPlan: heatPlans.find((p) => p.operations.includes(id))!.id,
  }));
  return planSchema.parse({ ...smallPlan, operations, heatPlans, holds, characteristics: [] });
}

/** Writes an unsigned act that was observed and recorded at an instant, said in any offset. */
export function writeAt<K extends Kind>(
  tablet: TestTablet,
  kind: K,
  body: Body<K>,
  observedAt: string,
  by: TestPerson = technician,
  recordedAt = observedAt,
): string {
  const { casting, device, head, seen, clock } = tablet;
  const entry = nextEntry({ casting, device, head, seen, clock }, { kind, body, by: by.id, observedAt, recordedAt });
  return tablet.keep({ entry, hash: entryHash(entry), signature: 'none' }).hash;
}

export const iso = (at_ms: number): string => new Date(at_ms).toISOString();

/** ISO 8601 with an offset of whole hours. */
export const isoAt = (at_ms: number, offset_h: number): string =>
  `${new Date(at_ms + offset_h * HOUR_MS).toISOString().slice(0, 19)}${offset_h < 0 ? '-' : '+'}${String(Math.abs(offset_h)).padStart(2, '0')}:00`;

export const roundBody = (
  plan: HeatPlan,
  more: Partial<Body<'round'>> = {},
  operation = plan.operations[0]!,
): Body<'round'> => ({
  operation,
  heatPlan: plan.id,
  extent: 'full',
  dueAt: null,
  plan: '0'.repeat(64),
  readings: [],
  observer: technician.id,
  way: 'keypad',
  ...more,
});
