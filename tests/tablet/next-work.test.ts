import { describe, expect, it } from 'vitest';
import { holdState } from '../../shared/logbook/state/holds.ts';
import { leftUndone } from '../../shared/logbook/state/left-undone.ts';
import { gateState } from '../../src/tablet/app/gate-state.ts';
import { lastEntries } from '../../src/tablet/screens/now/last-entries.ts';
import { nextStep, openWork, stepHref, stepWords } from '../../src/tablet/shared-screens/next-work.ts';
import { waitWords } from '../../src/tablet/shared-screens/wait-words.ts';
import { smallPlan } from '../logbook/small-plan.ts';
import { lead, reading, sheet, type TestTablet, tablets, technician } from '../logbook/world.ts';

const both = { c1: 'yes', c2: 'yes' } as const;
const finish = (tablet: TestTablet, operation: string, minute: number) =>
  tablet.write('operation', { operation, mark: 'finished' }, lead, minute);

/** The first open operation and its step, as Now tells them. */
function told(tablet: TestTablet): string {
  const view = tablet.view();
  const [first] = openWork(view);
  if (!first) return 'nothing open';
  const step = nextStep(view, first);
  return `${first.operation.id}: ${stepWords(step)} -> ${stepHref(first.operation.id, step)}`;
}

describe('what this shift does next', () => {
  it('goes from the check sheet over the stations to the finish, operation by operation', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    expect(told(tablet)).toBe('1: Check sheet, 2 items -> /sequence/1#sheet');
    tablet.write('sheet', sheet('1', { c1: 'yes' }), technician, 10);
    expect(told(tablet)).toBe('1: Check sheet, 1 of 2 answered -> /sequence/1#sheet');
    tablet.write('sheet', sheet('1', { c2: 'yes' }), technician, 11);
    expect(told(tablet)).toBe('1: Everything is recorded. A crew lead calls it finished. -> /sequence/1');
    finish(tablet, '1', 12);
    tablet.write('sheet', sheet('2', both), technician, 13);
    tablet.write('reading', reading('a', 100), technician, 14);
    expect(told(tablet)).toBe('2: width, 1 of 3 stations -> /survey/2/width');
    finish(tablet, '2', 15);
    expect(told(tablet)).toBe('nothing open');
  });

  it('says what an operation waits for', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    const view = tablet.view();
    expect(waitWords(view, { kind: 'operation', id: '1' })).toBe('1 operation 1 is not finished');
    expect(waitWords(view, { kind: 'start', id: '2' })).toBe('2 operation 2 has not begun');
    expect(waitWords(view, { kind: 'hold', id: 'H1' })).toBe('hold point H1 before operation 3 is not released');
  });

  it('counts what is missing before a finish', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    const second = smallPlan.operations[1]!;
    expect(leftUndone(tablet.view(), second)).toEqual([
      '2 of 2 items of the check sheet not answered',
      'width: 3 of 3 not measured',
    ]);
    tablet.write('sheet', sheet('2', both), technician, 10);
    for (const station of ['a', 'b', 'c']) tablet.write('reading', reading(station, 103), technician, 11);
    // Outside its limits is measured all the same.
    expect(leftUndone(tablet.view(), second)).toEqual([]);
  });

  it('asks for a sample where that is enough, and for all once one of it is not within', () => {
    const width = { ...smallPlan.characteristics[0]!, sampling: { all: false, count: 1, words: '1 in 3' } };
    const missing = (sampling: object, value?: number): string[] => {
      const plan = { ...smallPlan, characteristics: [{ ...width, sampling: { ...width.sampling, ...sampling } }] };
      const [tablet] = tablets(['T1'], plan) as [TestTablet];
      tablet.write('sheet', sheet('2', both), technician, 10);
      if (value !== undefined) tablet.write('reading', reading('a', value), technician, 11);
      return leftUndone(tablet.view(), tablet.view().plan.operations[1]!);
    };
    expect(missing({})).toEqual(['width: 1 of 1 not measured']);
    expect(missing({}, 100)).toEqual([]);
    expect(missing({}, 103)).toEqual(['width: 2 of 3 not measured']);
    expect(missing({ allIn: ['2'] }, 100)).toEqual(['width: 2 of 3 not measured']);
  });

  it('leaves out damage that may not be there', () => {
    const [operation] = smallPlan.operations;
    const cracks = { ...smallPlan.characteristics[0]!, id: 'cracks', stations: null, each: 'crack' };
    const lots = { ...cracks, id: 'lots', name: 'moisture', each: 'lot' };
    const plan = {
      ...smallPlan,
      operations: [{ ...operation!, checks: [], measures: ['cracks', 'lots'] }],
      characteristics: [cracks, lots],
      holds: [],
    };
    const [tablet] = tablets(['T1'], plan) as [TestTablet];
    expect(leftUndone(tablet.view(), tablet.view().plan.operations[0]!)).toEqual(['moisture: nothing recorded']);
  });

  it('tells the latest entries of the work, newest first', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    const lines = ['a', 'b', 'c', 'a'].map((station, i) =>
      tablet.write('reading', reading(station, 100), technician, 20 + i),
    );
    expect(lastEntries(tablet.view(), 3).map((k) => k.hash)).toEqual([lines[3]!.hash, lines[2]!.hash, lines[1]!.hash]);
  });

  it('tells nothing of the entries that begin a casting', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    expect(lastEntries(tablet.view(), 9).map((k) => k.kind)).toEqual(['person', 'person']);
  });
});

describe('a gate', () => {
  const gate = (tablet: TestTablet) => {
    const view = tablet.view();
    return gateState(view, holdState(view, view.plan.holds[0]!));
  };

  it('is not reached until there is a sign of work on the operation before it', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    expect(gate(tablet)).toBe('not-reached');
    tablet.write('sheet', sheet(tablet.view().plan.holds[0]!.after, { c1: 'yes' }), technician, 10);
    expect(gate(tablet)).toBe('open');
  });
});
