import { describe, expect, it } from 'vitest';
import type { Body, Verdict } from '../../shared/logbook/kinds.ts';
import { checkedStations } from '../../shared/logbook/state/checks.ts';
import { alsoAt, coreAt } from '../../shared/logbook/state/core-serials.ts';
import { judge } from '../../shared/logbook/state/derived.ts';
import { doubtWords } from '../../shared/logbook/state/doubt-words.ts';
import { findingsOf } from '../../shared/logbook/state/findings.ts';
import { holdState } from '../../shared/logbook/state/holds.ts';
import { stationStates } from '../../shared/logbook/state/readings.ts';
import { sheetState } from '../../shared/logbook/state/sheets.ts';
import { planHashOf } from '../../shared/logbook/state/view.ts';
import { addressWords } from '../../shared/plan/core-stations.ts';
import type { Plan } from '../../shared/plan/schema.ts';
import { smallPlan } from './small-plan.ts';
import { lead, quality, releaseBody, sheet, type TestPerson, type TestTablet, tablets, technician } from './world.ts';

/** The small plan with three cores in a row, gaps between them, in place of its width. */
const plan: Plan = {
  ...smallPlan,
  operations: smallPlan.operations.map((o) => (o.id === '2' ? { ...o, measures: ['gap', 'width'] } : o)),
  stationSets: {
    ...smallPlan.stationSets,
    C: ['0.1', '1.1', '1.4'].map((id, i) => ({
      id,
      label: `core ${id}`,
      x_mm: [0, 180, -180][i]!,
      y_mm: 0,
    })),
  },
  pairSets: { CP: { of: 'C', apart_mm: 180 } },
  characteristics: [
    ...smallPlan.characteristics,
    { ...smallPlan.characteristics[0]!, id: 'gap', name: 'gap', stations: 'CP', limits: [gapLimits()] },
    { ...smallPlan.characteristics[0]!, id: 'floor-hole', name: 'floor hole', stations: 'C', limits: [gapLimits()] },
    { ...smallPlan.characteristics[0]!, id: 'core-top', name: 'core top', stations: 'C', limits: [gapLimits()] },
  ],
  holds: smallPlan.holds.map((h) => ({
    ...h,
    requirements: [
      { kind: 'sheet', operation: '1' },
      { kind: 'sheet', operation: '2' },
      { kind: 'characteristic', characteristic: 'gap', operation: '2' },
    ],
  })),
};

function gapLimits() {
  return { nominal: 12, lower: 10.8, upper: 13.2 };
}

const gap = (station: string, value: number, observer: TestPerson = technician): Body<'reading'> => ({
  operation: '2',
  characteristic: 'gap',
  station,
  typed: { text: String(value), unit: 'mm', value },
  conditions: {},
  value,
  limits: gapLimits(),
  standardUncertainty: 0.15,
  guard: 0.2475,
  verdict: judge.verdict(value, 0.15, 10.8, 13.2),
  plan: planHashOf(plan),
  calculations: { conformity: 1 },
  instrument: null,
  observer: observer.id,
  way: 'keypad',
});

const changed = (station: string): Body<'core-change'> => ({
  operation: '2',
  station,
  serial: `new ${station}`,
  reason: 'gap outside',
  plan: planHashOf(plan),
  observer: technician.id,
  way: 'keypad',
  name: lead.name,
});

const named = (station: string, serial: string): Body<'core'> => ({
  operation: '2',
  station,
  serial,
  plan: planHashOf(plan),
  observer: technician.id,
  way: 'gauge',
});

const check = (answer: 'yes' | 'no', stations: string[]): Body<'check'> => ({
  operation: '2',
  item: 'c2',
  answer,
  stations,
  plan: planHashOf(plan),
  observer: technician.id,
  way: 'keypad',
});

const verdicts = (tablet: TestTablet): Record<string, Verdict | null> =>
  Object.fromEntries([...stationStates(tablet.view(), '2', 'gap')].map(([id, s]) => [id, s.verdict]));
const hold = (tablet: TestTablet) => holdState(tablet.view(), plan.holds[0]!);
const gapsMet = (tablet: TestTablet) => hold(tablet).conditions.find((c) => c.id === 'characteristic/2/gap')!;
const outside = (tablet: TestTablet) => findingsOf(tablet.view(), '2').find((f) => f.rule === 'outside');

function measured(): [TestTablet, TestTablet] {
  const [a, b] = tablets(['A', 'B'], plan) as [TestTablet, TestTablet];
  a.write('reading', gap('0.1-1.1', 12), technician, 10);
  a.write('reading', gap('0.1-1.4', 9.9), technician, 11);
  b.merge(a);
  return [a, b];
}

describe('a core that is changed', () => {
  it('takes the readings on its both sides out of the evidence, and leaves them readable', () => {
    const [a] = measured();
    expect(verdicts(a)).toEqual({ '0.1-1.1': 'within', '0.1-1.4': 'outside' });
    a.write('core-change', changed('1.4'), lead, 20);
    // The other gap of the core at the centre still stands.
    expect(verdicts(a)).toEqual({ '0.1-1.1': 'within', '0.1-1.4': null });
    expect(stationStates(a.view(), '2', 'gap').get('0.1-1.4')!.history).toHaveLength(1);
    expect(gapsMet(a)).toMatchObject({ met: false, count: [1, 2] });
    a.write('core-change', changed('0.1'), lead, 21);
    expect(verdicts(a)).toEqual({ '0.1-1.1': null, '0.1-1.4': null });
  });

  it('leaves what was read of the floor under it', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    for (const characteristic of ['floor-hole', 'core-top'])
      a.write('reading', { ...gap('1.4', 12), characteristic }, technician, 10);
    a.write('core-change', changed('1.4'), lead, 20);
    const standing = (characteristic: string) =>
      stationStates(a.view(), '2', characteristic).get('1.4')!.current.length;
    expect([standing('floor-hole'), standing('core-top')]).toEqual([1, 0]);
  });

  it('keeps the finding open until the new core is measured, and no longer', () => {
    const [a] = measured();
    const { id } = outside(a)!;
    a.write('core-change', changed('1.4'), lead, 20);
    expect(outside(a)).toMatchObject({ id, state: 'open' });
    a.write('reading', gap('0.1-1.4', 11.8), technician, 30);
    expect(outside(a)).toMatchObject({ id, state: 'closed' });
    expect(gapsMet(a)).toMatchObject({ met: true, verdict: 'within' });
  });

  it('takes no reading of the new core away, and none that another tablet wrote without knowing of it stands', () => {
    const [a, b] = measured();
    a.write('core-change', changed('1.4'), lead, 20);
    b.write('reading', gap('0.1-1.4', 12.1), technician, 25);
    a.merge(b);
    expect(verdicts(a)['0.1-1.4']).toBeNull();
    b.merge(a);
    b.write('reading', gap('0.1-1.4', 12.2), technician, 40);
    a.merge(b);
    expect(verdicts(a)['0.1-1.4']).toBe('within');
    expect(verdicts(b)).toEqual(verdicts(a));
  });

  it('does not take a reading from paper that was seen before it for one of the new core', () => {
    const [a] = measured();
    a.write('core-change', changed('1.4'), lead, 20);
    // Minute 15 on the paper, typed with the change known.
    a.write('reading', gap('0.1-1.4', 12), technician, 15);
    expect(verdicts(a)['0.1-1.4']).toBeNull();
  });

  it('gives the readings back when the change is struck', () => {
    const [a] = measured();
    const change = a.write('core-change', changed('1.4'), lead, 20);
    a.write('strike', { target: change.hash, reason: 'written for another core or channel' }, lead, 21);
    expect(verdicts(a)).toEqual({ '0.1-1.1': 'within', '0.1-1.4': 'outside' });
  });

  it('counts for nothing without a signature', () => {
    const [a] = measured();
    a.write('core-change', changed('1.4'), technician, 20, 'none');
    expect(verdicts(a)['0.1-1.4']).toBe('outside');
  });

  it('puts a release in doubt that rests on what was read of the core before, though it is made in its knowledge', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    a.write('reading', gap('0.1-1.1', 12), technician, 10);
    a.write('reading', gap('0.1-1.4', 12), technician, 11);
    for (const operation of ['1', '2']) {
      a.write('sheet', sheet(operation, { c1: 'yes', c2: 'yes' }), technician, 12);
      a.write('operation', { operation, mark: 'finished' }, lead, 13);
    }
    a.write('release', releaseOf(a, lead.name, 'crew-lead'), lead, 14);
    a.write('release', releaseOf(a, quality.name, 'quality'), quality, 15);
    expect(hold(a).status).toBe('released');
    a.write('core', named('1.4', 'K-1'), technician, 16);
    expect(hold(a).status).toBe('released');
    const change = a.write('core-change', changed('1.4'), lead, 20);
    expect(hold(a).status).toBe('in-doubt');
    const doubts = hold(a).stale.flatMap((s) => s.doubts);
    expect(new Set(doubts.map((d) => `${d.reason} ${d.entry.hash}`))).toEqual(new Set([`core-changed ${change.hash}`]));
    expect(doubtWords(a.view(), doubts[0]!)).toMatch(/^Core 1\.4 was changed since it was signed/);
  });
});

/** The release of the plan with cores, over what the tablet has. */
function releaseOf(tablet: TestTablet, name: string, role: 'crew-lead' | 'quality'): Body<'release'> {
  const { evidence, evidenceHash } = hold(tablet);
  return { ...releaseBody(tablet, name, role), plan: planHashOf(plan), evidence: [...evidence], evidenceHash };
}

describe('which core stands where', () => {
  it('follows what was entered last, and a change', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    expect(coreAt(a.view(), '1.4').serial).toBeNull();
    a.write('core', named('1.4', 'K-1'), technician, 10);
    a.write('core', named('1.4', 'K-2'), technician, 11);
    expect(coreAt(a.view(), '1.4').serial).toBe('K-2');
    a.write('core-change', changed('1.4'), lead, 20);
    expect(coreAt(a.view(), '1.4')).toMatchObject({ serial: 'new 1.4', changes: [{}] });
    expect(coreAt(a.view(), '1.1').serial).toBeNull();
  });

  it('finds a serial that stands at another address too', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    a.write('core', named('1.4', 'K-1'), technician, 10);
    expect(alsoAt(a.view(), 'K-1', '1.1')).toBe('1.4');
    expect(alsoAt(a.view(), 'K-1', '1.4')).toBeNull();
    expect(alsoAt(a.view(), 'K-2', '1.1')).toBeNull();
  });
});

describe('an item answered at a range of cores', () => {
  const answers = (tablet: TestTablet) =>
    Object.fromEntries([...checkedStations(tablet.view(), '2', 'c2')].map(([s, a]) => [s, a.answer]));

  it('is one act, which one strike takes back whole', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    const act = a.write('check', check('yes', ['0.1', '1.1', '1.4']), technician, 10);
    expect(answers(a)).toEqual({ '0.1': 'yes', '1.1': 'yes', '1.4': 'yes' });
    a.write('strike', { target: act.hash, reason: 'mistyped' }, technician, 11);
    expect(answers(a)).toEqual({});
  });

  it('gives way to a later answer where that was given in its knowledge, else the worse rules', () => {
    const [a, b] = tablets(['A', 'B'], plan) as [TestTablet, TestTablet];
    a.write('check', check('no', ['0.1', '1.1']), technician, 10);
    a.write('check', check('yes', ['1.1']), technician, 11);
    b.write('check', check('yes', ['0.1']), technician, 12);
    a.merge(b);
    expect(answers(a)).toEqual({ '0.1': 'no', '1.1': 'yes' });
  });

  it('is a finding where it is no, one for each act, until it is answered yes', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    a.write('check', check('no', ['1.1', '1.4']), technician, 10);
    const found = () => findingsOf(a.view(), '2').filter((f) => f.rule === 'answered-no');
    expect(found()).toMatchObject([{ title: 'Answered no at cores 1.1, 1.4: second item', state: 'open' }]);
    a.write('check', check('yes', ['1.1']), technician, 11);
    expect(found()).toMatchObject([{ title: 'Answered no at core 1.4: second item' }]);
    a.write('check', check('yes', ['1.4']), technician, 12);
    expect(found()).toEqual([]);
  });

  it('goes with the core that it was seen at, and counts as work and as evidence', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    const act = a.write('check', check('yes', ['0.1', '1.4']), technician, 10);
    expect(hold(a).evidence).toContain(act.hash);
    a.write('core-change', changed('1.4'), lead, 20);
    expect(answers(a)).toEqual({ '0.1': 'yes' });
  });
});

describe('addresses in words', () => {
  it('run on inside a ring', () => {
    expect(addressWords(['3.1', '3.2', '3.3'])).toBe('3.1 to 3.3');
    expect(addressWords(['0.1', '1.1', '1.2', '1.6', '2.1'])).toBe('0.1, 1.1 to 1.2, 1.6, 2.1');
  });
});

describe('a line of the check sheet', () => {
  const lined: Plan = {
    ...plan,
    operations: plan.operations.map((o) =>
      o.id === '2'
        ? {
            ...o,
            checks: [
              { id: 'c1', text: 'all gaps read', reads: 'gap' },
              { id: 'c2', text: 'each core seated', stations: 'C' },
            ],
          }
        : o,
    ),
  };
  const line = (tablet: TestTablet, item: string) => sheetState(tablet.view(), '2').items.find((i) => i.item === item)!;
  const said = (answer: 'yes' | 'no', stations: string[]) => ({ ...check(answer, stations), plan: planHashOf(lined) });
  const read = (station: string, value = 12) => ({ ...gap(station, value), plan: planHashOf(lined) });

  it('is filled once every core is answered, and empty again when one of the answers is struck', () => {
    const [a] = tablets(['A'], lined) as [TestTablet];
    a.write('check', said('yes', ['0.1', '1.1']), technician, 10);
    expect(line(a, 'c2').answer).toBeNull();
    const last = a.write('check', said('yes', ['1.4']), technician, 11);
    expect(line(a, 'c2')).toMatchObject({ answer: 'yes', by: null, filled: { stations: 3, of: 'answers' } });
    expect(line(a, 'c2').filled!.by.hash).toBe(last.hash);
    expect(sheetState(a.view(), '2')).toMatchObject({ answered: 1, complete: false });
    a.write('strike', { target: last.hash, reason: 'mistyped' }, technician, 12);
    expect(line(a, 'c2').answer).toBeNull();
  });

  it('stays open while a core is answered no, for a person to answer for the whole', () => {
    const [a] = tablets(['A'], lined) as [TestTablet];
    a.write('check', said('yes', ['0.1', '1.1']), technician, 10);
    a.write('check', said('no', ['1.4']), technician, 11);
    expect(line(a, 'c2').answer).toBeNull();
    a.write('sheet', { ...sheet('2', { c2: 'no' }), plan: planHashOf(lined) }, technician, 12);
    expect(line(a, 'c2').answer).toBe('no');
    a.write('check', said('yes', ['1.4']), technician, 13);
    // What a person said for the whole stands until that person changes it.
    expect(line(a, 'c2').answer).toBe('no');
  });

  it('is filled by readings wherever they are asked for, and makes the sheet complete', () => {
    const [a] = tablets(['A'], lined) as [TestTablet];
    a.write('reading', read('0.1-1.1'), technician, 10);
    expect(line(a, 'c1').answer).toBeNull();
    const last = a.write('reading', read('0.1-1.4'), technician, 11);
    expect(line(a, 'c1')).toMatchObject({ answer: 'yes', filled: { stations: 2, of: 'readings' } });
    expect(line(a, 'c1').filled!.by.hash).toBe(last.hash);
    a.write('check', said('yes', ['0.1', '1.1', '1.4']), technician, 12);
    expect(sheetState(a.view(), '2').complete).toBe(true);
    // The core was taken out: what was read of it does not fill the line any more.
    a.write('core-change', { ...changed('1.4'), plan: planHashOf(lined) }, lead, 20);
    expect(line(a, 'c1').answer).toBeNull();
    expect(line(a, 'c2').answer).toBeNull();
  });
});
