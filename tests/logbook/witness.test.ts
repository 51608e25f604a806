import { describe, expect, it } from 'vitest';
import { actWords, noticeEnds, witnessActs } from '../../shared/logbook/state/witness-acts.ts';
import { lead, type TestTablet, tablets } from './world.ts';

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
    expect(noticeEnds(t.view(), witness)).toBeNull();
    wrote(t, 'waived', 10);
    wrote(t, 'attended', 20);
    expect(counts(t)).toEqual([false, true]);
  });

  it('counts the notice from the first time that the witness was told', () => {
    const t = tablet();
    wrote(t, 'told', 10);
    wrote(t, 'told', 100);
    const [first] = witnessActs(t.view(), witness);
    expect(noticeEnds(t.view(), witness)).toBe(Date.parse(first!.kept.entry.observedAt) + 3 * 3_600_000);
  });
});
