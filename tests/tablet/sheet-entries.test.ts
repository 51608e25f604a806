import { describe, expect, it } from 'vitest';
import type { Body } from '../../shared/logbook/kinds.ts';
import type { Kept } from '../../shared/logbook/log.ts';
import { sheetState } from '../../shared/logbook/state/sheets.ts';
import { planHashOf } from '../../shared/logbook/state/view.ts';
import { type Filled, sheetEntries } from '../../src/tablet/acts/sheet-entries.ts';
import { smallPlan } from '../logbook/small-plan.ts';
import { lead, quality, sheet, type TestTablet, tablets, technician } from '../logbook/world.ts';

const plan = planHashOf(smallPlan);
const seen = { observer: quality.id, way: 'keypad' } as const;

const current = (tablet: TestTablet): readonly Kept<'sheet'>[] => sheetState(tablet.view(), '1').entries;

/** Writes a go of answers as the tablet would, recorded by the lead. */
function fill(tablet: TestTablet, filled: readonly Filled[], minute: number): Body<'sheet'>[] {
  const entries = sheetEntries({ operation: '1', plan, current: current(tablet) }, filled, seen);
  for (const { body } of entries) tablet.write('sheet', body, lead, minute);
  return entries.map((e) => e.body);
}

const answers = (tablet: TestTablet) =>
  Object.fromEntries(sheetState(tablet.view(), '1').items.map((i) => [i.item, i.answer]));

describe('the entries of a check sheet', () => {
  it('puts a first go into one entry that replaces nothing', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    const bodies = fill(
      tablet,
      [
        { item: 'c1', answer: 'yes', words: '' },
        { item: 'c2', answer: 'no', words: ' joint open ' },
      ],
      10,
    );
    expect(bodies).toEqual([
      {
        operation: '1',
        plan,
        observer: quality.id,
        way: 'keypad',
        answers: [
          { item: 'c1', answer: 'yes' },
          { item: 'c2', answer: 'no', words: 'joint open' },
        ],
      },
    ]);
  });

  it('replaces the entry of an answer that was checked again, and keeps the others with their observer and time', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    const first = tablet.write('sheet', sheet('1', { c1: 'yes', c2: 'no' }), technician, 10);
    const entries = sheetEntries(
      { operation: '1', plan, current: current(tablet) },
      [{ item: 'c2', answer: 'yes', words: 'closed since', change: 'checked again' }],
      seen,
    );
    expect(entries).toHaveLength(2);
    expect(entries[0]!.body.observer).toBe(quality.id);
    expect(entries[0]!.body.answers).toEqual([
      { item: 'c2', answer: 'yes', words: 'checked again, was no; closed since' },
    ]);
    expect(entries[1]!.body.observer).toBe(technician.id);
    expect(entries[1]!.body.answers).toEqual([{ item: 'c1', answer: 'yes' }]);
    expect(entries[1]!.observedAt).toBe(first.entry.observedAt);
    for (const { body } of entries) expect(body.replaces).toEqual([first.hash]);
    for (const { body } of entries) tablet.write('sheet', body, lead, 20);
    // Without the replacing, the worse answer of the two would rule.
    expect(answers(tablet)).toEqual({ c1: 'yes', c2: 'yes' });
  });

  it('leaves a mistyped answer with the one who saw it and when', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    const first = tablet.write('sheet', sheet('1', { c1: 'no', c2: 'yes' }), technician, 10);
    const [only, ...more] = sheetEntries(
      { operation: '1', plan, current: current(tablet) },
      [{ item: 'c1', answer: 'yes', words: '', change: 'mistyped' }],
      seen,
    );
    expect(more).toEqual([]);
    expect(only!.body.observer).toBe(technician.id);
    expect(only!.observedAt).toBe(first.entry.observedAt);
    expect(only!.body.answers).toEqual([
      { item: 'c1', answer: 'yes', words: 'mistyped, was no' },
      { item: 'c2', answer: 'yes' },
    ]);
  });

  it('replaces both entries where two tablets had answered one item', () => {
    const [one, two] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    const a = one.write('sheet', sheet('1', { c1: 'yes', c2: 'yes' }), technician, 10);
    const b = two.write('sheet', sheet('1', { c1: 'no' }), quality, 11);
    one.merge(two);
    expect(answers(one).c1).toBe('no');
    const bodies = fill(one, [{ item: 'c1', answer: 'yes', words: '', change: 'checked again' }], 20);
    expect(bodies.flatMap((body) => body.replaces ?? [])).toEqual(expect.arrayContaining([a.hash, b.hash]));
    expect(answers(one)).toEqual({ c1: 'yes', c2: 'yes' });
  });

  it('names the part where there is a sheet for each', () => {
    const [entry] = sheetEntries(
      { operation: '1', part: 'lot 3', plan, current: [] },
      [{ item: 'c1', answer: 'yes', words: '' }],
      { ...seen, observedAt: '2026-03-01T01:00:00Z' },
    );
    expect(entry!.body.part).toBe('lot 3');
    expect(entry!.observedAt).toBe('2026-03-01T01:00:00Z');
  });
});
