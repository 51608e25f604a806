import { beforeAll, describe, expect, it } from 'vitest';
import { annealNow } from '../../shared/furnace/anneal.ts';
import { findings } from '../../shared/logbook/state/findings.ts';
import { heatInWork } from '../../shared/logbook/state/rounds.ts';
import { samplesOf } from '../../shared/logbook/state/samples.ts';
import type { View } from '../../shared/logbook/state/view.ts';
import { ENDS_AT, practice, viewOfLines } from './practice-world.ts';

/** Found of readings and rounds; what the story leaves out is found besides. */
const OF_READINGS: ReadonlySet<string> = new Set([
  'outside',
  'not-proven',
  'derived-outside',
  'two-readings',
  'verdict-differs',
  'missed-round',
  'alarm',
]);

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
    const told = findings(view).filter((f) => ['11.1', '11.2', '11.3'].includes(f.operation));
    expect(told.filter((f) => OF_READINGS.has(f.rule)).map((f) => f.title)).toEqual([]);
  });
});
