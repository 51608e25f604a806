import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planEffects } from '../../shared/logbook/state/plan-effects.ts';
import { heatOf, roundsState } from '../../shared/logbook/state/rounds.ts';
import type { HeatPlan, Plan } from '../../shared/plan/schema.ts';
import { HOUR_MS, iso, planWithHeats, roundBody, START_MS, writeAt } from './heat-world.ts';
import { lead, type TestTablet, tablets } from './world.ts';

const engineer = { ...lead, roles: [...lead.roles, 'process-engineer' as const] };

/** 12 h of a soak with a round at each interval. */
const heat = (every_h: number): HeatPlan => ({
  id: 'H',
  name: 'test heat',
  operations: ['1'],
  start_C: 100,
  control: ['BP'],
  segments: [{ to_C: 100, soak_h: 12, band_K: 5, spread_K: 10, rounds: [{ extent: 'full', every_h }] }],
});
const planned = (every_h: number, revision: string): Plan => ({ ...planWithHeats([heat(every_h)]), revision });

/** A heat of 2 h rounds, walked in time for some hours. */
function walked(hours: number): TestTablet {
  const [a] = tablets(['T1'], planned(2, 'A')) as [TestTablet];
  a.write('person', { person: lead.id, name: lead.name, roles: [...engineer.roles] }, lead, 4);
  writeAt(a, 'operation', { operation: '1', mark: 'started', heat: 'H' }, iso(START_MS));
  for (let h = 0; h <= hours; h += 2) writeAt(a, 'round', roundBody(heat(2)), iso(START_MS + h * HOUR_MS));
  return a;
}

/** Signs a revision so many hours into the heat. */
const revise = (a: TestTablet, plan: Plan, at_h: number) =>
  a.write(
    'plan',
    { plan, parents: [a.view().planHash] },
    engineer,
    (START_MS + at_h * HOUR_MS - Date.UTC(2026, 2, 1)) / 60_000,
  );

const due = (a: TestTablet) => heatOf(a.view(), a.view().plan.heatPlans[0]!)!.rounds.map((r) => r.at_h);

describe('the rounds of a heat whose interval is revised', () => {
  it('were due by the old interval until it was signed, and are by the new one since', () => {
    const a = walked(4);
    expect(due(a)).toEqual([0, 2, 4, 6, 8, 10]);
    revise(a, planned(1, 'B'), 5);
    expect(due(a)).toEqual([0, 2, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect(roundsState(a.view(), 'H').missed).toEqual([]);
  });

  it('are not missed by a preview either', () => {
    const a = walked(4);
    const { opened, closed } = planEffects(a.view(), planned(0.5, 'B'), START_MS + 5 * HOUR_MS);
    expect([opened, closed]).toEqual([[], []]);
  });

  it('are numbered through, in order, each once, with those before the signature as they were', () => {
    const interval = fc.constantFrom(0.5, 1, 2, 3, 4);
    fc.assert(
      fc.property(interval, interval, fc.integer({ min: 1, max: 22 }), (one, two, half_h) => {
        const a = walked(4);
        const before = due(a);
        revise(a, planned(one, 'B'), half_h / 2);
        revise(a, planned(two, 'C'), half_h / 2 + 0.25);
        const rounds = heatOf(a.view(), a.view().plan.heatPlans[0]!)!.rounds;
        expect(rounds.map((r) => r.number)).toEqual(rounds.map((_, i) => i + 1));
        const hours = rounds.map((r) => r.at_h);
        expect([...new Set(hours)].sort((x, y) => x - y)).toEqual(hours);
        const kept = before.filter((h) => h < half_h / 2);
        expect(hours.slice(0, kept.length)).toEqual(kept);
        expect(hours.filter((h) => h > half_h / 2 + 0.25).every((h) => h % two === 0)).toBe(true);
      }),
      { seed: 9, numRuns: 40 },
    );
  });
});
