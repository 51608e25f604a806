import { beforeAll, describe, expect, it } from 'vitest';
import { annealNow } from '../../shared/furnace/anneal.ts';
import { heatInWork } from '../../shared/logbook/state/rounds.ts';
import { samplesOf } from '../../shared/logbook/state/samples.ts';
import type { View } from '../../shared/logbook/state/view.ts';
import { ENDS_AT, practice, viewOfLines } from './practice-world.ts';
import { foundOfReadings } from './story-findings.ts';

describe('the practice casting in the anneal', () => {
  let view: View;
  beforeAll(async () => {
    const { casting, lines } = await practice('anneal story', { story: 'anneal' });
    view = await viewOfLines(casting, lines);
  }, 60_000);

  it('stands in the slow range, within its rate and its difference', () => {
    const heat = heatInWork(view)!;
    expect(heat.plan.id).toBe('P4');
    const now = annealNow(view, heat, samplesOf(view, heat), ENDS_AT)!;
    expect(now.cooling).toMatchObject({ verdict: 'within', limit: 0.239 });
    expect(now.through.map((t) => t.verdict)).toEqual(['within', 'within', 'within', 'within']);
    // By the record and by the rate alike: it has been steady for weeks.
    expect(now.slab!.permanent_centre_stress_MPa).toBeCloseTo(now.closed.permanent_centre_stress_MPa, 1);
  });

  it('has no alarm that the crew would have to answer', () => {
    expect(foundOfReadings(view, ['11.1', '11.2', '11.3'])).toEqual([]);
  });
});
