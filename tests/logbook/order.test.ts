import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../shared/logbook/state/findings.ts';
import { type Plan, planSchema } from '../../shared/plan/schema.ts';
import { smallPlan } from './small-plan.ts';
import { lead, type TestTablet, tablets } from './world.ts';

const H = 60;
const WHY = 'The bond cures for seven days.';

type Link = Plan['operations'][number]['after'][number];

/** The small plan with other links before its second operation. */
const planWith = (...after: Link[]): Plan =>
  planSchema.parse({
    ...smallPlan,
    operations: smallPlan.operations.map((o) => (o.id === '2' ? { ...o, after } : o)),
  });

const mark = (tablet: TestTablet, operation: string, which: 'started' | 'finished', hour: number): void => {
  tablet.write('operation', { operation, mark: which }, lead, hour * H);
};

function told(after: Link[], ...marks: [string, 'started' | 'finished', number][]) {
  const [tablet] = tablets(['A'], planWith(...after)) as [TestTablet];
  for (const [operation, which, hour] of marks) mark(tablet, operation, which, hour);
  return findingsOf(tablet.view(), '2')
    .filter((f) => f.rule === 'out-of-sequence')
    .map((f) => [f.title, f.words, f.causes.length]);
}

describe('the order of work', () => {
  const cured: Link = { id: '1', type: 'FS', lag_h: 168, why: WHY };

  it('tells work that was begun before what it follows was finished, with the reason', () => {
    expect(told([cured], ['1', 'started', 1], ['2', 'started', 5], ['2', 'finished', 6])).toEqual([
      ['2 was begun before 1 was finished', `${WHY} 2 entries are out of sequence; all are kept.`, 2],
    ]);
  });

  it('tells a wait cut short, and only the work inside it', () => {
    expect(told([cured], ['1', 'finished', 10], ['2', 'started', 40], ['2', 'finished', 178])).toEqual([
      [
        '2 was begun 30 h after 1 was finished; the plan wants 168 h',
        `${WHY} 1 entry is out of sequence; all are kept.`,
        1,
      ],
    ]);
    expect(told([cured], ['1', 'finished', 10], ['2', 'started', 178])).toEqual([]);
  });

  it('lets work begin that may overlap, once the other has gone on for its time', () => {
    const overlap: Link = { id: '1', type: 'SS', lag_h: 48 };
    expect(told([overlap], ['2', 'started', 5])).toEqual([
      ['2 was begun before 1 was begun', '1 entry is out of sequence; all are kept.', 1],
    ]);
    expect(told([overlap], ['1', 'started', 1], ['2', 'started', 25]).map(([title]) => title)).toEqual([
      '2 was begun 24 h after 1 was begun; the plan wants 48 h',
    ]);
    expect(told([overlap], ['1', 'started', 1], ['2', 'started', 49])).toEqual([]);
  });

  it('tells a finish ahead of the finish that it waits for', () => {
    const last: Link = { id: '1', type: 'FF', lag_h: 8 };
    expect(
      told([last], ['1', 'started', 1], ['2', 'started', 2], ['2', 'finished', 9]).map(([title]) => title),
    ).toEqual(['2 was finished before 1 was finished']);
    expect(told([last], ['1', 'finished', 10], ['2', 'started', 2], ['2', 'finished', 13]).map(([t]) => t)).toEqual([
      '2 was finished 3 h after 1 was finished; the plan wants 8 h',
    ]);
    expect(told([last], ['1', 'finished', 10], ['2', 'started', 2], ['2', 'finished', 18])).toEqual([]);
  });

  it('is quiet again when the early entry is struck, and tells each broken link', () => {
    const [tablet] = tablets(['A'], planWith(cured, { id: '3', type: 'SS', lag_h: 0 })) as [TestTablet];
    const early = tablet.write('operation', { operation: '2', mark: 'started' }, lead, 60);
    const titles = () => findingsOf(tablet.view(), '2').flatMap((f) => (f.rule === 'out-of-sequence' ? [f.title] : []));
    expect(titles()).toEqual(['2 was begun before 1 was finished', '2 was begun before 3 was begun']);
    tablet.write('strike', { target: early.hash, reason: 'mistyped' }, lead, 61);
    expect(titles()).toEqual([]);
  });
});
