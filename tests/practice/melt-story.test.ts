import { beforeAll, describe, expect, it } from 'vitest';
import { meltNow } from '../../shared/furnace/melt.ts';
import { spinNow } from '../../shared/furnace/spin.ts';
import { heatInWork, roundsNow } from '../../shared/logbook/state/rounds.ts';
import type { View } from '../../shared/logbook/state/view.ts';
import { ENDS_AT, practice, viewOfLines } from './practice-world.ts';
import { foundOfReadings } from './story-findings.ts';

describe('the practice casting at the melt watch', () => {
  let view: View;
  beforeAll(async () => {
    const { casting, lines } = await practice('melt story', { story: 'melt' });
    view = await viewOfLines(casting, lines);
  }, 60_000);

  it('stands in the soak at the peak, every round written', () => {
    const heat = heatInWork(view)!;
    expect(heat.plan.id).toBe('P3');
    const last = heat.walked.at(-1)!;
    expect(Date.parse(last.entry.observedAt)).toBeLessThanOrEqual(ENDS_AT);
    expect(ENDS_AT - Date.parse(last.entry.observedAt)).toBeLessThan(24 * 3_600_000);
    expect(roundsNow(heat, Date.parse(last.entry.observedAt)).missed).toEqual([]);
  });

  it('has three ports settled and one that still falls', () => {
    const melt = meltNow(view, '10.1')!;
    expect(melt.ports.map((p) => [p.station.id, p.state])).toEqual([
      ['30', 'settled'],
      ['120', 'settled'],
      ['210', 'settled'],
      ['300', 'still falling'],
    ]);
    expect(melt.account!.planned).toBe(false);
  });

  it('found the one rate outside, and gives the radius of the last', () => {
    const spin = spinNow(view, heatInWork(view)!, '10.1')!;
    expect(spin.findings.map((f) => [f.rule, f.state])).toEqual([['outside', 'open']]);
    expect(Math.abs(spin.radius!.radius_m - spin.radius!.wanted_m)).toBeLessThan(spin.radius!.tolerance_m);
    expect(spin.hoursAtRate).toBeGreaterThan(20);
  });

  it('has no alarm, no two readings of one thing, and no other reading outside', () => {
    expect(foundOfReadings(view, ['9.2', '9.3', '10.1'])).toEqual(['Spin rate over 100 turns: outside']);
  });
});
