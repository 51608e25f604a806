import { describe, expect, it } from 'vitest';
import { levelMeanings, meltNow, meltOperation, settlingOf } from '../../shared/furnace/melt.ts';
import { findings } from '../../shared/logbook/state/findings.ts';
import { holdState } from '../../shared/logbook/state/holds.ts';
import { randomOf } from '../../shared/practice/random.ts';
import { at_ms, fresh, heatPlan, plan, read } from './furnace-world.ts';

const PORTS = ['30', '120', '210', '300'];
const operation = '10.1';

/** Levels every 15 minutes that fall to a final one, at each port. */
function watched(final_mm: number, hours: number, more: (port: string) => number = () => 0) {
  const tablet = fresh();
  const random = randomOf('melt', 'levels');
  for (let hour = 0; hour <= hours; hour += 0.25)
    for (const station of PORTS) {
      const level = final_mm + more(station) + 11 * Math.exp(-hour / 0.8) + 0.1 * random.normal();
      read(tablet, 140 + hour, { operation, characteristic: 'melt-level', station }, Number(level.toFixed(1)), false);
    }
  return tablet;
}
const meltIn = (tablet: ReturnType<typeof watched>) => meltNow(tablet.view(), operation)!;

describe('the level of the melt', () => {
  it('is watched in the operation of the casting that names it', () => {
    expect(meltOperation(plan, heatPlan('P3'))).toBe('10.1');
    expect(meltOperation(plan, heatPlan('P1'))).toBeUndefined();
  });

  it('is still falling, then settled, with its final level', () => {
    const early = meltIn(watched(408, 1.25));
    expect(early.settled).toBe(false);
    expect(early.ports.map((p) => p.state)).not.toContain('settled');
    const late = meltIn(watched(408, 6));
    expect(late.ports.map((p) => p.state)).toEqual(['settled', 'settled', 'settled', 'settled']);
    for (const port of late.ports) {
      expect(port.final_mm).toBeCloseTo(408, 0);
      expect(port.curve!(at_ms(140))).toBeCloseTo(419, 0);
    }
    expect(late.settled).toBe(true);
  });

  it('says what it lacks with fewer than five readings, and that it rises', () => {
    const few = [1, 2, 3].map((k) => ({ at_ms: k * 900_000, level_mm: 410 - k }));
    expect(settlingOf(few, 0.5)).toMatchObject({ state: 'too few', words: '3 of the 5 readings that a curve needs' });
    const rising = [0, 1, 2, 3, 4, 5, 6].map((k) => ({ at_ms: k * 900_000, level_mm: 408 + k }));
    expect(settlingOf(rising, 0.5).state).toBe('rising');
    expect(settlingOf([], 0.5).state).toBe('not read');
  });

  it('stands above the floor and above the core tops at the wall', () => {
    const now = meltIn(watched(408, 2));
    // Edge 280 + 3200²/(8 · 10 240) = 405 mm, less 28 mm of face.
    expect(now.edge_mm).toBeCloseTo(405, 9);
    expect(now.coreTop_mm).toBeCloseTo(377, 9);
  });

  it('accounts for the glass: the level against the mass loaded', () => {
    const tablet = watched(408, 6);
    const account = meltIn(tablet).account!;
    // The plan's mass gives the plan's level: 405 mm cold and some 3 mm more hot.
    expect(account.planned).toBe(true);
    expect(account.expected_mm).toBeCloseTo(408, 6);
    expect(account.verdict).toBe('within');
    // Ten kilograms more loaded: 10/1.015 kg over 17.93 kg a millimetre (π/4 · 3.2² m² · 2230 kg/m³ · 1 mm).
    read(tablet, 100, { operation: '8.2', characteristic: 'mass-loaded' }, account.loaded_kg + 10);
    const heavier = meltIn(tablet).account!;
    expect(heavier.planned).toBe(false);
    expect(heavier.expected_mm - 408).toBeCloseTo(10 / 1.015 / ((Math.PI / 4) * 3.2 ** 2 * 2.23), 4);
    expect(heavier.missing_kg).toBeCloseTo(-heavier.off_mm * ((Math.PI / 4) * 3.2 ** 2 * 2.23), 6);
  });

  it('says what a level can mean that does not close with the mass: too low a leak first, too high a void', () => {
    const low = meltIn(watched(403, 6));
    expect(low.account!.verdict).toBe('outside');
    expect(low.account!.missing_kg).toBeGreaterThan(80);
    expect(levelMeanings(low)[0]).toMatch(/leak/);
    expect(levelMeanings(low).join(' ')).toMatch(/floating core/);
    const high = meltIn(watched(412, 6));
    expect(levelMeanings(high)[0]).toMatch(/void/);
    expect(levelMeanings(meltIn(watched(408, 6)))).toEqual([]);
    const tilted = meltIn(watched(408, 6, (port) => (port === '30' ? 5 : 0)));
    expect(levelMeanings(tilted)[0]).toMatch(/differ by more than the limit/);
  });

  it('fills what the release to fast cool asks of it once all four ports have settled, and not before', () => {
    const remaining = (tablet: ReturnType<typeof watched>) => {
      const view = tablet.view();
      const hold = view.plan.holds.find((h) => h.id === 'H09')!;
      return holdState(view, hold).conditions.find((c) => c.id === 'characteristic/10.1/level-remaining')!;
    };
    expect(remaining(watched(408, 1.25))).toMatchObject({ met: false });
    expect(remaining(watched(408, 6))).toMatchObject({ met: true, verdict: 'within', count: [4, 4] });
  });

  it('raises no finding for each reading while the glass only falls', () => {
    expect(
      findings(watched(408, 3).view()).filter(
        (f) => f.operation === operation && f.rule !== 'out-of-sequence' && f.rule !== 'passed-unreleased',
      ),
    ).toEqual([]);
  });
});
