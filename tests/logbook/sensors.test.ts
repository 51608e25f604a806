import { Matrix, solve } from 'ml-matrix';
import { beforeAll, describe, expect, it } from 'vitest';
import { channelsOf } from '../../shared/logbook/state/channels.ts';
import { type Heat, heatInWork } from '../../shared/logbook/state/rounds.ts';
import { sensorFacts } from '../../shared/logbook/state/sensors.ts';
import type { View } from '../../shared/logbook/state/view.ts';
import { readCorrections } from '../../src/tablet/screens/heat/corrections-draft.ts';
import { practice, viewOfLines } from '../practice/practice-world.ts';

const WEEK_MS = 7 * 86_400_000;

describe('the sensor behind a channel', () => {
  let view: View;
  let heat: Heat;
  beforeAll(async () => {
    const { casting, lines } = await practice('sensors');
    view = await viewOfLines(casting, lines);
    heat = heatInWork(view)!;
  }, 120_000);

  const facts = (id: string) => sensorFacts(view, heat, view.plan.channels.find((c) => c.id === id)!);
  const goodOf = (id: string) =>
    channelsOf(view, heat)
      .find((h) => h.channel.id === id)!
      .readings.filter((r) => r.row.state === 'good' && r.row.value !== null);

  it('has the tolerance of its type and class where it was read last', () => {
    const { last, tolerance } = facts('CR-3');
    expect(last!.value).toBe(goodOf('CR-3').at(-1)!.row.value);
    // IEC 60584-1, class 1, type S: 1 K up to 1100 °C.
    expect(tolerance).toMatchObject({ class: 1, outcome: { result: { tolerance_K: 1 } } });
    expect(facts('RJ-1').tolerance).toBeNull();
    expect(facts('CR-3').corrected).toBeNull();
  });

  it('goes apart from its pair as ml-matrix fits it over the last week', () => {
    const [pair] = facts('WU-2').pairs;
    expect(pair!.other).toBe('WL-2');
    const own = goodOf('WU-2');
    const other = new Map(goodOf('WL-2').map((r) => [r.at_ms, r.row.value!]));
    const both = own.filter((r) => other.has(r.at_ms));
    expect(pair!.differences).toHaveLength(both.length);
    const until = both.at(-1)!.at_ms;
    const week = both.filter((r) => until - r.at_ms <= WEEK_MS);
    expect(week.length).toBeGreaterThan(20);
    const design = new Matrix(week.map((r) => [1, (r.at_ms - until) / WEEK_MS]));
    const fit = solve(design, Matrix.columnVector(week.map((r) => r.row.value! - other.get(r.at_ms)!)), true);
    expect(pair!.drift_K_week).toBeCloseTo(fit.get(1, 0), 6);
    expect(pair!.standardError_K_week).toBeGreaterThan(0);
    const guard = 1.65 * pair!.standardError_K_week!;
    const off = Math.abs(pair!.drift_K_week!);
    // ISO 14253-1 with the plan's ±0.5 K a week.
    expect(pair!.verdict).toBe(off <= 0.5 - guard ? 'within' : off >= 0.5 + guard ? 'outside' : 'not-proven');
  });

  it('says nothing of a drift before it was read three times', () => {
    expect(sensorFacts(view, null, view.plan.channels.find((c) => c.id === 'CR-1')!).pairs).toEqual([]);
  });
});

describe('corrections as they are typed', () => {
  const texts = { lines: '500 −0,4\n\n600 -0.9', calibratedOn: '2026-01-10', certificate: ' no. 7 ' };

  it('are points, with a comma or a point, a hyphen or a minus', () => {
    expect(readCorrections(texts)).toEqual({
      corrections: [
        { at: 500, correction: -0.4 },
        { at: 600, correction: -0.9 },
      ],
      calibratedOn: '2026-01-10',
      words: 'no. 7',
    });
  });

  it.each([
    [{ ...texts, lines: '500' }, /Line 1, "500", is not/],
    [{ ...texts, lines: '500 x' }, /Line 1/],
    [{ ...texts, lines: '500 1 2' }, /Line 1/],
    [{ ...texts, lines: '0.4 500' }, /a correction of 500 K\? Temperature first/],
    [{ ...texts, lines: '500 1\n500 2' }, /two corrections at 500/],
    [{ ...texts, lines: ' \n' }, /at least one point/],
    [{ ...texts, calibratedOn: '' }, /which date/],
    [{ ...texts, certificate: ' ' }, /which certificate/],
  ])('ask for what is wrong: %j', (wrong, ask) => {
    expect((readCorrections(wrong) as { ask: string }).ask).toMatch(ask);
  });
});
