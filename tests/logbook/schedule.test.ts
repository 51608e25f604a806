import { describe, expect, it } from 'vitest';
import { scheduleAt } from '../../shared/logbook/state/schedule.ts';
import { planSchema } from '../../shared/plan/schema.ts';
import { smallPlan } from './small-plan.ts';
import { lead, quality, reading, releaseBody, sheet, type TestTablet, tablets, technician } from './world.ts';

/** Minutes from the test casting's day 1, Sunday 1 March 2026 in UTC. */
const at = (day: number, hour: number): number => ((day - 1) * 24 + hour) * 60;
const ms = (day: number, hour: number): number => Date.UTC(2026, 2, day, hour);

const iso = (instant: number): string => new Date(instant).toISOString().slice(5, 16);

/** Three operations of one day shift each, one after the other, with a hold point before the last. */
function told(tablet: TestTablet, now_ms: number) {
  const { operations, holds, finish_ms, slip_ms } = scheduleAt(tablet.view(), now_ms);
  const dates = [...operations, ...holds].map((o): [string, string] => [
    o.id,
    `${o.progress} ${iso(o.forecast.start_ms)} ${iso(o.forecast.finish_ms)}`,
  ]);
  return { ...Object.fromEntries(dates), finish: iso(finish_ms), slip_h: slip_ms / 3_600_000 };
}

const mark = (tablet: TestTablet, operation: string, which: 'started' | 'finished', minute: number) =>
  tablet.write('operation', { operation, mark: which }, lead, minute);

const one = (): TestTablet => tablets(['A'])[0]!;

describe('a casting in time', () => {
  it('is as planned before anything happened, and from then on as late as nobody begins', () => {
    const tablet = one();
    const planned = {
      '1': 'ahead 03-02T07:00 03-02T15:00',
      '2': 'ahead 03-03T07:00 03-03T15:00',
      '3': 'ahead 03-04T07:00 03-04T15:00',
      H1: 'ahead 03-03T15:00 03-03T15:00',
      finish: '03-04T15:00',
      slip_h: 0,
    };
    expect(told(tablet, ms(1, 8))).toEqual(planned);
    expect(told(tablet, ms(4, 9))).toEqual({
      '1': 'ahead 03-04T09:00 03-05T09:00',
      '2': 'ahead 03-05T09:00 03-06T09:00',
      // Over the weekend.
      '3': 'ahead 03-06T09:00 03-09T09:00',
      H1: 'ahead 03-06T09:00 03-06T09:00',
      finish: '03-09T09:00',
      slip_h: 4 * 24 + 18,
    });
  });

  it('takes starts and finishes from the log, and is not finished before now', () => {
    const tablet = one();
    mark(tablet, '1', 'started', at(2, 8));
    expect(told(tablet, ms(2, 12))).toMatchObject({ '1': 'under-way 03-02T08:00 03-03T08:00', slip_h: 17 });
    expect(told(tablet, ms(5, 10))).toMatchObject({ '1': 'under-way 03-02T08:00 03-05T10:00' });
    mark(tablet, '1', 'finished', at(5, 11));
    expect(told(tablet, ms(5, 12))).toMatchObject({
      '1': 'done 03-02T08:00 03-05T11:00',
      '2': 'ahead 03-05T12:00 03-06T12:00',
    });
  });

  it('takes a reading as the start of work, and lets work that was begun early count from when it might have begun', () => {
    const tablet = one();
    mark(tablet, '1', 'started', at(2, 7));
    tablet.write('reading', reading('a', 100), technician, at(2, 9));
    expect(told(tablet, ms(2, 10))).toMatchObject({
      '1': 'under-way 03-02T07:00 03-02T15:00',
      '2': 'under-way 03-02T09:00 03-03T15:00',
    });
  });

  it('a struck start is none', () => {
    const tablet = one();
    const early = mark(tablet, '1', 'started', at(2, 7));
    tablet.write('strike', { target: early.hash, reason: 'mistyped' }, lead, at(2, 8));
    expect(told(tablet, ms(2, 9))).toMatchObject({ '1': 'ahead 03-02T09:00 03-03T09:00' });
  });

  it('waits for the signatures of a hold point, and not with work that has begun behind it', () => {
    const tablet = one();
    for (const [operation, day] of [
      ['1', 2],
      ['2', 3],
    ] as const) {
      mark(tablet, operation, 'started', at(day, 7));
      tablet.write('sheet', sheet(operation, { c1: 'yes', c2: 'yes' }), technician, at(day, 8));
      if (operation === '2')
        for (const station of ['a', 'b', 'c']) tablet.write('reading', reading(station, 100), technician, at(day, 9));
      mark(tablet, operation, 'finished', at(day, 15));
    }
    expect(told(tablet, ms(5, 8))).toMatchObject({
      H1: 'ahead 03-05T08:00 03-05T08:00',
      '3': 'ahead 03-05T08:00 03-06T08:00',
    });
    tablet.write('release', releaseBody(tablet, 'Lead', 'crew-lead'), lead, at(5, 9));
    tablet.write('release', releaseBody(tablet, 'Quality', 'quality'), quality, at(5, 10));
    expect(told(tablet, ms(5, 12))).toMatchObject({
      H1: 'done 03-05T10:00 03-05T10:00',
      '3': 'ahead 03-05T12:00 03-06T12:00',
    });
    const other = one();
    mark(other, '1', 'finished', at(2, 15));
    mark(other, '2', 'finished', at(3, 15));
    mark(other, '3', 'started', at(4, 7));
    // Past a hold point that nobody has signed.
    expect(told(other, ms(4, 12))).toMatchObject({ '3': 'under-way 03-04T07:00 03-04T15:00' });
  });

  it('keeps the free days that the plan names', () => {
    const calendars = {
      day: { weekdays: [1, 2, 3, 4, 5], from_h: 7, to_h: 15 },
      two: { weekdays: [1, 2, 3, 4, 5, 6], from_h: 6, to_h: 22 },
      freeDays: ['2026-03-03'],
    };
    const [tablet] = tablets(['A'], planSchema.parse({ ...smallPlan, calendars })) as [TestTablet];
    expect(told(tablet, ms(1, 8))).toMatchObject({ '2': 'ahead 03-04T07:00 03-04T15:00', slip_h: 0 });
  });

  it('has slack only where something else holds the end', () => {
    const plan = planSchema.parse({
      ...smallPlan,
      operations: smallPlan.operations.map((o) =>
        o.id === '2'
          ? { ...o, after: [], hours: 40 }
          : o.id === '3'
            ? { ...o, after: [...o.after, { id: '1', type: 'FS', lag_h: 0 }] }
            : o,
      ),
    });
    const [tablet] = tablets(['A'], plan) as [TestTablet];
    const { operations } = scheduleAt(tablet.view(), ms(1, 8));
    expect(operations.map((o) => [o.id, o.forecast.critical, o.forecast.totalFloat_ms / 86_400_000])).toEqual([
      ['1', false, 4],
      ['2', true, 0],
      ['3', true, 0],
    ]);
  });
});
