import { describe, expect, it } from 'vitest';
import { spinNow, spinOperations } from '../../shared/furnace/spin.ts';
import { findings } from '../../shared/logbook/state/findings.ts';
import { at_ms, fresh, groups, heatIn, heatPlan, plan, read, start, walk } from './furnace-world.ts';

const TIMED = { operation: '10.1', characteristic: 'spin-rate' };
/** Limits of the practice blank, from its radius of 10.24 m ± 20 mm: 9.31980 to 9.33802 rpm, by the calculation spin. */
const GOOD = 9.329;

function melting(hottest: number) {
  const tablet = fresh();
  start(tablet, 'P3');
  for (const hour of [130, 131, 132, 133, 134])
    walk(tablet, 'P3', hour, { ...groups(['FC'], hottest), 'SR-1': 9.33 }, '10.1');
  return tablet;
}
const spinIn = (tablet: ReturnType<typeof melting>) => spinNow(tablet.view(), heatIn(tablet, 'P3'), '10.1')!;

describe('the spin as it is worked out', () => {
  it('is timed in the operations of the casting that name it', () => {
    expect(spinOperations(plan, heatPlan('P3'))).toEqual(['9.3', '10.1', '11.1', '11.2']);
  });

  it('gives the radius of curvature of the last reading, with what the timing leaves open', () => {
    const tablet = melting(1100);
    read(tablet, 134.5, TIMED, GOOD);
    const now = spinIn(tablet);
    expect(now.last).toMatchObject({ rpm: GOOD, by: 'hand', within: true, at_ms: at_ms(134.5) });
    // R = g/ω² brought to 20 °C by 1 + 3.3e-6 · 540, g of latitude 28.5° at 620 m (spin-check has published values).
    const omega = (GOOD * 2 * Math.PI) / 60;
    expect(now.radius!.radius_m).toBeCloseTo(9.790179 / omega ** 2 / (1 + 3.3e-6 * 540), 5);
    expect(now.radius!.u_m).toBeCloseTo(0.0033, 4);
  });

  it('counts the hours at rate between readings that were both within, and those outside while glass was fluid', () => {
    const tablet = melting(1100);
    expect(spinIn(tablet).hoursAtRate).toBeCloseTo(4, 9);
    expect(spinIn(tablet).hoursOutside).toBe(0);
    read(tablet, 132.5, TIMED, 9.36);
    // 130 to 132 and 133 to 134 within; 132 to 133 touches the one outside.
    expect(spinIn(tablet).hoursAtRate).toBeCloseTo(3, 9);
    expect(spinIn(tablet).hoursOutside).toBeCloseTo(1, 9);
    const cold = melting(500);
    read(cold, 132.5, TIMED, 9.36);
    expect(spinIn(cold).hoursOutside).toBe(0);
  });

  it('makes a timed rate outside its limits a finding at once', () => {
    const tablet = melting(1100);
    read(tablet, 134.2, TIMED, 9.345);
    const found = findings(tablet.view()).filter((f) => f.characteristic === 'spin-rate');
    expect(found.map((f) => [f.rule, f.severity, f.state])).toEqual([['outside', 'major', 'open']]);
    expect(spinIn(tablet).findings.map((f) => f.id)).toEqual(found.map((f) => f.id));
  });

  it('gives the change within an hour of timed rates', () => {
    const tablet = melting(1100);
    read(tablet, 131.1, TIMED, 9.32);
    expect(spinIn(tablet).change_rpm).toBeNull();
    read(tablet, 133.1, TIMED, 9.328);
    read(tablet, 134.1, TIMED, 9.3325);
    expect(spinIn(tablet).change_rpm).toBeCloseTo(0.0045, 9);
    expect(spinIn(tablet).changeLimit_rpm).toBe(0.006);
  });

  it('lets readings of one rate stand one beside the other: nobody is asked which is right', () => {
    const tablet = melting(1100);
    for (const hour of [130.2, 131.2, 132.2]) read(tablet, hour, TIMED, GOOD);
    expect(findings(tablet.view()).filter((f) => f.characteristic === 'spin-rate')).toEqual([]);
  });
});
