import { describe, expect, it } from 'vitest';
import type { Body } from '../../shared/logbook/kinds.ts';
import {
  type Arrangement,
  arrangementById,
  arrangementStatus,
  arrangements,
  openArrangements,
} from '../../shared/logbook/state/arrangements.ts';
import { findings } from '../../shared/logbook/state/findings.ts';
import { lead, quality, reading, type TestTablet, tablets, technician } from './world.ts';

const BYPASS = 'b'.repeat(32);
const START_MS = Date.UTC(2026, 2, 1);
const minute = (m: number): string => new Date(START_MS + m * 60_000).toISOString();

const bypass = (more: Partial<Body<'arrangement'>> = {}): Body<'arrangement'> => ({
  arrangement: BYPASS,
  operation: '2',
  what: 'CR-2 left out of the mean',
  subject: { kind: 'channel', id: 'CR-2' },
  owner: technician.id,
  endsAt: minute(600),
  endsWhen: null,
  reason: 'open circuit',
  ...more,
});

const END: Body<'arrangement-end'> = { arrangement: BYPASS, operation: '2', words: 'a spare was fitted' };

const overdue = (tablet: TestTablet) => findings(tablet.view()).filter((f) => f.rule === 'overdue-arrangement');
const only = (tablet: TestTablet): Arrangement => {
  const all = arrangements(tablet.view());
  expect(all).toHaveLength(1);
  return all[0]!;
};
const statusAt = (tablet: TestTablet, m: number) => arrangementStatus(only(tablet), START_MS + m * 60_000);

describe('a temporary arrangement', () => {
  it('is open, then due to end, then overdue, by the time that is asked about', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    tablet.write('arrangement', bypass(), technician, 10);
    expect([20, 479, 480, 600, 601].map((m) => statusAt(tablet, m))).toEqual(['open', 'open', 'due', 'due', 'overdue']);
  });

  it('is never overdue by time where only a condition ends it', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    tablet.write('arrangement', bypass({ endsAt: null, endsWhen: 'the spare is fitted' }), technician, 10);
    expect(statusAt(tablet, 100_000)).toBe('open');
  });

  it('needs only a name: no signature and no role', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    const line = tablet.write('arrangement', bypass(), technician, 10, 'none');
    expect(tablet.view().standing.faultOf(tablet.log.get(line.hash)!)).toBeNull();
  });

  it('is extended by a later line, which keeps the one before readable', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    tablet.write('arrangement', bypass(), technician, 10);
    tablet.write('arrangement', bypass({ endsAt: minute(900), owner: lead.id }), lead, 590);
    const { line, lines } = only(tablet);
    expect([line.body.owner, line.body.endsAt, lines.length]).toEqual([lead.id, minute(900), 2]);
    expect(statusAt(tablet, 700)).toBe('open');
  });

  it('stands as before when its extension is struck', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    tablet.write('arrangement', bypass(), technician, 10);
    const longer = tablet.write('arrangement', bypass({ endsAt: minute(900) }), lead, 590);
    tablet.write('strike', { target: longer.hash, reason: 'mistyped' }, lead, 595);
    expect(statusAt(tablet, 700)).toBe('overdue');
  });

  it('ends by its end, and is open again when that is struck', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    tablet.write('arrangement', bypass(), technician, 10);
    const end = tablet.write('arrangement-end', END, technician, 300);
    expect(statusAt(tablet, 700)).toBe('ended');
    expect(openArrangements(tablet.view())).toEqual([]);
    tablet.write('strike', { target: end.hash, reason: 'mistyped' }, technician, 310);
    expect(openArrangements(tablet.view()).map((a) => a.id)).toEqual([BYPASS]);
  });

  it('ends first where two tablets extended it without knowing of each other, until one says more', () => {
    const [one, two] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    one.write('arrangement', bypass(), technician, 10);
    two.merge(one);
    one.write('arrangement', bypass({ endsAt: minute(1200) }), lead, 590);
    two.write('arrangement', bypass({ endsAt: minute(900) }), technician, 591);
    one.merge(two);
    two.merge(one);
    for (const tablet of [one, two]) expect(only(tablet).line.body.endsAt).toBe(minute(900));
    one.write('arrangement', bypass({ endsAt: minute(1000) }), lead, 600);
    expect(only(one).line.body.endsAt).toBe(minute(1000));
  });

  it('is nothing while only its end has come', () => {
    const [one, two] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    one.write('arrangement', bypass(), technician, 10);
    two.write('arrangement-end', END, technician, 20);
    expect(arrangements(two.view())).toEqual([]);
    expect(arrangementById(two.view(), BYPASS)).toBeNull();
    two.merge(one);
    expect(arrangementById(two.view(), BYPASS)?.ended).not.toBeNull();
  });

  it('stands in the order in which they end, conditions last', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    const made = [
      { arrangement: '1'.repeat(32), endsAt: null, endsWhen: 'the gauge is back' },
      { arrangement: '2'.repeat(32), endsAt: minute(900) },
      { arrangement: '3'.repeat(32), endsAt: minute(300) },
    ];
    for (const more of made) tablet.write('arrangement', bypass(more), technician, 10);
    expect(arrangements(tablet.view()).map((a) => a.id[0])).toEqual(['3', '2', '1']);
  });
});

describe('an arrangement past its end', () => {
  it('is found with the next work in the log, not by the clock', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    tablet.write('arrangement', bypass(), technician, 10);
    tablet.write('reading', reading('a', 100), technician, 600);
    expect(overdue(tablet)).toEqual([]);
    tablet.write('reading', reading('b', 100), technician, 601);
    expect(overdue(tablet).map((f) => [f.operation, f.state, f.blocks, f.title])).toEqual([
      ['2', 'open', null, 'Temporary arrangement past its end: CR-2 left out of the mean'],
    ]);
  });

  it('is found by work on another operation too: its own may be long finished', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    tablet.write('arrangement', bypass({ operation: '1' }), technician, 10);
    tablet.write('reading', reading('a', 100), technician, 700);
    expect(overdue(tablet).map((f) => f.operation)).toEqual(['1']);
  });

  it('is no longer found when it is extended, and found under another name at its new end', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    tablet.write('arrangement', bypass(), technician, 10);
    tablet.write('reading', reading('a', 100), technician, 700);
    const first = overdue(tablet)[0]!.id;
    tablet.write('arrangement', bypass({ endsAt: minute(900) }), lead, 710);
    expect(overdue(tablet)).toEqual([]);
    tablet.write('reading', reading('b', 100), technician, 901);
    const second = overdue(tablet).map((f) => f.id);
    expect(second).toHaveLength(1);
    expect(second[0]).not.toBe(first);
  });

  it('stays on the record, closed, where it was ended late; and is nothing where it ended in time', () => {
    const late = tablets(['T1'])[0]!;
    late.write('arrangement', bypass(), technician, 10);
    late.write('reading', reading('a', 100), technician, 700);
    late.write('arrangement-end', END, technician, 690);
    expect(overdue(late).map((f) => [f.state, f.words])).toEqual([
      ['closed', 'It was ended 1.5 h late: a spare was fitted'],
    ]);
    const timely = tablets(['T1'])[0]!;
    timely.write('arrangement', bypass(), technician, 10);
    timely.write('arrangement-end', END, technician, 590);
    timely.write('reading', reading('a', 100), technician, 700);
    expect(overdue(timely)).toEqual([]);
  });

  it('is one finding under one name on two tablets that have the same entries', () => {
    const [one, two] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    one.write('arrangement', bypass(), technician, 10);
    two.merge(one);
    two.write('reading', reading('a', 100), technician, 700);
    one.merge(two);
    expect(overdue(one).map((f) => f.id)).toEqual(overdue(two).map((f) => f.id));
    expect(overdue(one)).toHaveLength(1);
  });

  it('does not count what a person who may not strike it strikes', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    const line = tablet.write('arrangement', bypass(), quality, 10);
    tablet.write('strike', { target: line.hash, reason: 'mistyped' }, technician, 20);
    expect(openArrangements(tablet.view())).toHaveLength(1);
  });
});
