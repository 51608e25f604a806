import { describe, expect, it } from 'vitest';
import { holdState } from '../../shared/logbook/state/holds.ts';
import { actWords, notice, witnessActs } from '../../shared/logbook/state/witness-acts.ts';
import { planSchema } from '../../shared/plan/schema.ts';
import { HOUR_MS, iso, writeAt } from './heat-world.ts';
import { smallPlan } from './small-plan.ts';
import { lead, reading, sheet, type TestTablet, tablets, technician } from './world.ts';

/** A time of day on the day of the tests; hours from 24 on are of the next. */
const at = (hour: number, minute: number): string => iso(Date.UTC(2026, 2, 1, hour, minute));

/** Three hours of notice; the tests' tablets write by the minute. */
const witness = { id: 'W1', notice_h: 3, toldAhead: '3 h' };

describe('a witness point', () => {
  const tablet = () => tablets(['T1'])[0] as TestTablet;
  const wrote = (t: TestTablet, act: 'told' | 'attended' | 'waived', minute: number) =>
    t.write('witness', { witness: 'W1', act }, lead, minute);
  const counts = (t: TestTablet) => witnessActs(t.view(), witness).map((a) => a.counts);

  it('takes a waiver when its notice has run out, to the minute', () => {
    const t = tablet();
    wrote(t, 'told', 10);
    wrote(t, 'waived', 10 + 179);
    wrote(t, 'waived', 10 + 180);
    expect(counts(t)).toEqual([true, false, true]);
    const [, early] = witnessActs(t.view(), witness);
    expect(actWords(early!, witness)).toContain('before the notice of 3 h had run out');
  });

  it('takes no waiver of a witness who was never told, and attendance always', () => {
    const t = tablet();
    expect(notice(t.view(), witness)).toEqual({ ends_ms: null, lacks: 'first' });
    wrote(t, 'waived', 10);
    wrote(t, 'attended', 20);
    expect(counts(t)).toEqual([false, true]);
  });

  it('counts the notice from the first time that the witness was told', () => {
    const t = tablet();
    wrote(t, 'told', 10);
    wrote(t, 'told', 100);
    const [first] = witnessActs(t.view(), witness);
    expect(notice(t.view(), witness).ends_ms).toBe(Date.parse(first!.kept.entry.observedAt) + 3 * 3_600_000);
  });

  it('counts the notice from when the witness was told, however much later that was written down', () => {
    const t = tablet();
    writeAt(t, 'witness', { witness: 'W1', act: 'told' }, at(22, 0), lead, at(23, 30));
    expect(notice(t.view(), witness).ends_ms).toBe(Date.parse(at(22, 0)) + 3 * HOUR_MS);
    writeAt(t, 'witness', { witness: 'W1', act: 'waived' }, at(24, 59), lead);
    writeAt(t, 'witness', { witness: 'W1', act: 'waived' }, at(25, 0), lead);
    expect(counts(t)).toEqual([true, false, true]);
    // Both times stay in the entry.
    const [told] = witnessActs(t.view(), witness);
    expect(told!.kept.entry).toMatchObject({ observedAt: at(22, 0), recordedAt: at(23, 30) });
  });

  it('wants a second notice where the plan does, and takes no waiver before both have run out', () => {
    const t = tablet();
    const twice = { ...witness, secondNotice_h: 2 };
    const counted = () => witnessActs(t.view(), twice).map((a) => a.counts);
    wrote(t, 'told', 0);
    expect(notice(t.view(), twice)).toEqual({ ends_ms: null, lacks: 'second' });
    wrote(t, 'waived', 200);
    wrote(t, 'told', 210);
    expect(notice(t.view(), twice)).toEqual({ ends_ms: Date.parse(at(5, 30)), lacks: null });
    wrote(t, 'waived', 210 + 119);
    wrote(t, 'waived', 210 + 120);
    expect(counted()).toEqual([true, false, true, false, true]);
  });

  it('takes one telling that was written twice, or told again too soon, as no second notice', () => {
    const [t, other] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    const twice = { ...witness, secondNotice_h: 2 };
    wrote(t, 'told', 10);
    wrote(other, 'told', 10);
    t.merge(other);
    wrote(t, 'told', 11);
    wrote(t, 'told', 10 + 119);
    expect(notice(t.view(), twice)).toEqual({ ends_ms: null, lacks: 'second' });
    wrote(t, 'waived', 600);
    expect(witnessActs(t.view(), twice).at(-1)!.counts).toBe(false);
    wrote(t, 'told', 10 + 120 + 600);
    expect(notice(t.view(), twice)).toEqual({ ends_ms: Date.parse(at(14, 10)), lacks: null });
  });

  it('takes the first telling that is far enough behind the first as the second notice', () => {
    const t = tablet();
    for (const minute of [0, 1, 120, 400]) wrote(t, 'told', minute);
    expect(notice(t.view(), { ...witness, secondNotice_h: 2 }).ends_ms).toBe(Date.parse(at(4, 0)));
  });

  it('takes nothing as having happened later than it was written down', () => {
    const t = tablet();
    writeAt(t, 'witness', { witness: 'W1', act: 'told' }, at(30, 0), lead, at(22, 0));
    expect(notice(t.view(), witness).ends_ms).toBe(Date.parse(at(25, 0)));
    writeAt(t, 'witness', { witness: 'W1', act: 'waived' }, at(40, 0), lead, at(23, 0));
    expect(counts(t)).toEqual([true, false]);
  });

  it('keeps its hold point from being ready while the waiver came too early', () => {
    const [first] = smallPlan.holds;
    const plan = planSchema.parse({
      ...smallPlan,
      witnesses: [
        {
          id: 'W1',
          name: 'measuring the width',
          operations: ['2'],
          notice_h: 3,
          toldAhead: '3 h',
          mayAttend: 'one station',
          ifAbsent: 'go on',
        },
      ],
      holds: [{ ...first!, requirements: [...first!.requirements, { kind: 'witness', witness: 'W1' }] }],
    });
    const [t] = tablets(['T1'], plan) as [TestTablet];
    for (const operation of ['1', '2']) {
      t.write('sheet', sheet(operation, { c1: 'yes', c2: 'yes' }), technician, 10);
      t.write('operation', { operation, mark: 'finished' }, lead, 20);
    }
    for (const station of ['a', 'b', 'c']) t.write('reading', reading(station, 100), technician, 15);
    const state = () => holdState(t.view(), plan.holds[0]!);
    const missing = () => state().missing.map((c) => [c.id, c.words]);
    expect(missing()).toEqual([['witness/W1', 'the witness has not been told']]);
    wrote(t, 'told', 30);
    expect(missing()).toEqual([['witness/W1', 'told, its notice runs until day 1, 03:30']]);
    wrote(t, 'waived', 60);
    expect(state().status).toBe('open');
    expect(missing()).toEqual([
      [
        'witness/W1',
        'told, waived before the notice of 3 h had run out: that does not count, its notice runs until day 1, 03:30',
      ],
    ]);
    wrote(t, 'waived', 30 + 180);
    expect(state()).toMatchObject({ status: 'ready', missing: [] });
  });
});
