import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findings } from '../../shared/logbook/state/findings.ts';
import { holdState } from '../../shared/logbook/state/holds.ts';
import {
  dueRounds,
  greatestGap_h,
  heatInWork,
  heatOf,
  missedRuns,
  roundForTime,
  roundsNow,
  roundsState,
  statusAt,
} from '../../shared/logbook/state/rounds.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import type { HeatPlan, Plan } from '../../shared/plan/schema.ts';
import { HOUR_MS, iso, isoAt, planWithHeats, roundBody, START_MS, writeAt } from './heat-world.ts';
import { lead, type TestTablet, tablets } from './world.ts';

/** The due times, tolerances and the names late and missed are the practice plan's own (its round rule). */
const practice = buildPlan(practiceDesign);
const heatPlan = (id: string): HeatPlan => practice.heatPlans.find((p) => p.id === id)!;
const P1 = heatPlan('P1');

/** A tablet on which a heat was started at an instant. */
function started(plan: HeatPlan, startAt = iso(START_MS), holds: Plan['holds'] = []): TestTablet {
  const [tablet] = tablets(['A'], planWithHeats([plan], holds));
  writeAt(tablet!, 'operation', { operation: plan.operations[0]!, mark: 'started', heat: plan.id }, startAt);
  return tablet!;
}

const at = (hours: number): number => START_MS + hours * HOUR_MS;
const walk = (tablet: TestTablet, plan: HeatPlan, hours: number, more: Parameters<typeof roundBody>[1] = {}): string =>
  writeAt(tablet, 'round', roundBody(plan, more), iso(at(hours)));
const heat = (tablet: TestTablet, plan: HeatPlan) => heatOf(tablet.view(), plan)!;

describe('due rounds', () => {
  it('of the preheat stand as its table counts them: 5, 12, 24, 6, 29, 8, 12 and 9 by segment', () => {
    const bySegment = P1.segments.map((_, i) => dueRounds(P1).filter((d) => d.segment === i + 1).length);
    // Hours of each segment over its interval, a started interval counting, by hand from the plan's table.
    expect(bySegment).toEqual([10 / 2, 24 / 2, 24, 12 / 2, 29, 8, Math.ceil(23.2 / 2), 36 / 4]);
  });

  it('fall due once each, in order, within the heat, whatever the plan', () => {
    fc.assert(
      fc.property(heatPlans, (plan) => {
        const due = dueRounds(plan);
        expect(due.map((d) => d.number)).toEqual(due.map((_, i) => i + 1));
        due.slice(1).forEach((d, i) => {
          expect(d.at_h).toBeGreaterThan(due[i]!.at_h);
        });
        const hours = plan.segments.reduce((sum, s) => sum + (s.soak_h ?? 0), 0);
        for (const d of due) expect(d.at_h).toBeLessThan(hours);
      }),
      { seed: 4, numRuns: 200 },
    );
  });

  it('walk the full round where a key round falls together with it', () => {
    const firstDay = dueRounds(heatPlan('P4')).filter((d) => d.at_h < 8);
    expect(firstDay.map((d) => [d.at_h, d.extent])).toEqual(
      [0, 1, 2, 3, 4, 5, 6, 7].map((h) => [h, h % 4 === 0 ? 'full' : 'key']),
    );
  });

  it('ask for the key rounds of 9.3 only while 9.3 runs', () => {
    const P3 = heatPlan('P3');
    const tablet = started(P3);
    const keys = () => heat(tablet, P3).rounds.filter((r) => r.extent === 'key');
    expect(keys()).toEqual([]);
    writeAt(tablet, 'operation', { operation: '9.3', mark: 'started' }, iso(at(114)), lead);
    writeAt(tablet, 'operation', { operation: '9.3', mark: 'finished' }, iso(at(116)), lead);
    const hours = keys().map((r) => r.at_h);
    expect(hours.length).toBe(4);
    for (const h of hours) {
      expect(h).toBeGreaterThanOrEqual(114);
      expect(h).toBeLessThan(116);
    }
  });
});

describe('a round', () => {
  const status = (tablet: TestTablet, number: number, hours: number) => {
    const h = heat(tablet, P1);
    return statusAt(h, h.rounds[number - 1]!, at(hours));
  };

  it('is in time within a tenth of its interval, late until the next is due, missed after', () => {
    const tablet = started(P1);
    // Round 2 is due at hour 2; a tenth of two hours is twelve minutes.
    expect(status(tablet, 2, 1.79)).toBe('to come');
    expect(status(tablet, 2, 1.81)).toBe('due');
    expect(status(tablet, 2, 2.19)).toBe('due');
    expect(status(tablet, 2, 2.21)).toBe('late');
    expect(status(tablet, 2, 3.99)).toBe('late');
    expect(status(tablet, 2, 4)).toBe('missed');
    walk(tablet, P1, 2.19);
    walk(tablet, P1, 4.5);
    expect(status(tablet, 2, 5)).toBe('in time');
    expect(status(tablet, 3, 5)).toBe('written late');
  });

  it('keeps five minutes at least where the interval is short', () => {
    const P3 = heatPlan('P3');
    const h = heat(started(P3), P3);
    const half = h.rounds.find((r) => r.every_h === 0.5)!;
    expect(half.lateFrom_ms - half.due_ms).toBe(5 * 60_000);
  });

  it('counts for the due time that it names, if it was walked in its time', () => {
    const tablet = started(P1);
    // At 3.9 h the next is nearly due: what it names decides.
    walk(tablet, P1, 3.9, { dueAt: iso(at(2)) });
    walk(tablet, P1, 7.9, { dueAt: iso(at(2)) });
    const { rounds } = heat(tablet, P1);
    expect(rounds.filter((r) => r.written).map((r) => r.number)).toEqual([2, 5]);
  });

  it('that is walked twice, or between the due times of what is written, fills no other one', () => {
    const tablet = started(P1);
    walk(tablet, P1, 0.02);
    walk(tablet, P1, 0.05);
    walk(tablet, P1, 1);
    const state = roundsNow(heat(tablet, P1), at(1.5));
    expect(state.written).toBe(1);
    expect(state.missed).toEqual([]);
    expect(state.last?.entry.observedAt).toBe(iso(at(1)));
  });

  it('of the key channels does not stand for a full one', () => {
    const tablet = started(P1);
    walk(tablet, P1, 0, { extent: 'key' });
    expect(roundsNow(heat(tablet, P1), at(2)).missed.map((r) => r.number)).toEqual([1]);
  });

  it('that is struck counts as not written', () => {
    const tablet = started(P1);
    const hash = walk(tablet, P1, 0);
    expect(roundsNow(heat(tablet, P1), at(3)).missed).toEqual([]);
    tablet.write('strike', { target: hash, reason: 'test entry' }, lead, 100_000);
    expect(roundsNow(heat(tablet, P1), at(3)).missed.map((r) => r.number)).toEqual([1]);
  });

  it('typed later from paper with its true time is late and no longer missed', () => {
    const tablet = started(P1);
    walk(tablet, P1, 4);
    expect(roundsNow(heat(tablet, P1), at(5)).missed.map((r) => r.number)).toEqual([1, 2]);
    const typedAt = iso(at(5));
    writeAt(tablet, 'round', roundBody(P1, { way: 'paper' }), iso(at(2.5)), undefined, typedAt);
    expect(roundsNow(heat(tablet, P1), at(5)).missed.map((r) => r.number)).toEqual([1]);
    expect(status(tablet, 2, 5)).toBe('written late');
  });
});

describe('the start of a heat', () => {
  it('is the mark that names the heat, also where the operation was started before', () => {
    const [tablet] = tablets(['A'], planWithHeats([P1]));
    expect(heatOf(tablet!.view(), P1)).toBeNull();
    writeAt(tablet!, 'operation', { operation: '4.1', mark: 'started' }, iso(at(-5)));
    expect(heat(tablet!, P1).start_ms).toBe(at(-5));
    writeAt(tablet!, 'operation', { operation: '4.1', mark: 'started', heat: 'P1' }, iso(at(0)));
    expect(heat(tablet!, P1).start_ms).toBe(at(0));
    expect(heatInWork(tablet!.view())?.plan.id).toBe('P1');
  });

  it('is the first work where nobody marked one', () => {
    const [tablet] = tablets(['A'], planWithHeats([P1]));
    walk(tablet!, P1, 0.5);
    expect(heat(tablet!, P1).start_ms).toBe(at(0.5));
  });
});

describe('a change of clocks', () => {
  /** Clocks went forward at 01:00 UTC on 29 March 2026 and back on 25 October (EU directive 2000/84/EC). */
  const FORWARD_MS = Date.UTC(2026, 2, 29, 1);
  const BACK_MS = Date.UTC(2026, 9, 25, 1);

  it.each([
    ['forward', FORWARD_MS, 1, 2],
    ['back', BACK_MS, 2, 1],
  ])('%s moves no due time: hours of a heat are elapsed hours', (_name, change_ms, before, after) => {
    const start_ms = change_ms - 3 * HOUR_MS;
    const tablet = started(P1, isoAt(start_ms, before));
    const offset = (ms: number) => (ms < change_ms ? before : after);
    for (const hours of [0, 2, 4, 6]) {
      const ms = start_ms + hours * HOUR_MS;
      const told = isoAt(ms, offset(ms));
      writeAt(tablet, 'round', roundBody(P1, { dueAt: told }), told);
    }
    const state = roundsNow(heat(tablet, P1), start_ms + 7 * HOUR_MS);
    expect(state.written).toBe(4);
    expect(state.missed).toEqual([]);
    expect(state.next?.due_ms).toBe(start_ms + 8 * HOUR_MS);
    // The wall clock told 3 or 5 hours between rounds two hours apart.
    const [, second, third] = heat(tablet, P1).walked;
    const wall = (text: string) => Date.parse(`${text.slice(0, 19)}Z`);
    expect((wall(third!.entry.observedAt) - wall(second!.entry.observedAt)) / HOUR_MS).toBe(2 + after - before);
  });
});

describe('a tablet that slept for three days', () => {
  const tablet = started(P1);
  for (const hours of [0, 2, 4, 6, 8]) walk(tablet, P1, hours);
  const woken_ms = at(8.5 + 72);

  it('shows every round that fell due meanwhile as missed, and none besides', () => {
    const state = roundsNow(heat(tablet, P1), woken_ms);
    // By hand: due and over between 8 and 80.5 h are those at 10 … 32 every 2 h, 34 … 57 every 1 h, 58 … 68 every 2 h
    // and 70 … 79 every 1 h; the one at 80 is late since 80.1 h, not missed.
    expect(state.missed.map((r) => r.at_h)).toEqual([
      ...Array.from({ length: 12 }, (_, i) => 10 + 2 * i),
      ...Array.from({ length: 24 }, (_, i) => 34 + i),
      ...Array.from({ length: 6 }, (_, i) => 58 + 2 * i),
      ...Array.from({ length: 10 }, (_, i) => 70 + i),
    ]);
    expect(state.current?.at_h).toBe(80);
    expect(state.next?.at_h).toBe(81);
    expect(state.written).toBe(5);
  });

  it('invents no finding until somebody writes again, and then raises one a segment', () => {
    const missed = () => findings(tablet.view()).filter((f) => f.rule === 'missed-round');
    expect(missed()).toEqual([]);
    writeAt(tablet, 'round', roundBody(P1), iso(woken_ms));
    expect(missed().map((f) => [f.title, f.severity])).toEqual([
      ['Rounds 6 to 17 of heat P1 missed', 'major'],
      ['Rounds 18 to 41 of heat P1 missed', 'major'],
      ['Rounds 42 to 47 of heat P1 missed', 'major'],
      ['Rounds 48 to 57 of heat P1 missed', 'major'],
    ]);
  });
});

describe('findings about rounds', () => {
  it('are minor for one that was missed, major for two in a row, and go when it is written from paper', () => {
    const tablet = started(P1);
    for (const hours of [0, 4, 10]) walk(tablet, P1, hours);
    const missed = () => findings(tablet.view()).filter((f) => f.rule === 'missed-round');
    expect(missed().map((f) => [f.operation, f.title, f.severity, f.blocks, f.state])).toEqual([
      ['4.1', 'Round 2 of heat P1 missed', 'minor', null, 'open'],
      ['4.1', 'Rounds 4 to 5 of heat P1 missed', 'major', null, 'open'],
    ]);
    writeAt(tablet, 'round', roundBody(P1, { way: 'paper' }), iso(at(2)), undefined, iso(at(11)));
    expect(missed().map((f) => f.title)).toEqual(['Rounds 4 to 5 of heat P1 missed']);
    expect(
      findings(tablet.view())
        .filter((f) => f.rule === 'late')
        .map((f) => f.title),
    ).toEqual(['Round of heat P1: written 9 h late']);
  });

  it('bear the same name on two tablets that find the same', () => {
    const [a, b] = tablets(['A', 'B'], planWithHeats([P1]));
    writeAt(a!, 'operation', { operation: '4.1', mark: 'started', heat: 'P1' }, iso(at(0)));
    walk(a!, P1, 4);
    b!.merge(a!);
    walk(b!, P1, 6);
    const ids = (tablet: TestTablet) =>
      findings(tablet.view())
        .filter((f) => f.rule === 'missed-round')
        .map((f) => f.id);
    expect(ids(a!)).toHaveLength(1);
    expect(ids(b!)).toEqual(ids(a!));
  });
});

describe('what a hold point asks of rounds', () => {
  const hold = (more: object): Plan['holds'][number] => ({
    id: 'H1',
    name: 'after the heat',
    after: '4.1',
    before: [],
    operations: ['4.1'],
    requirements: [
      { kind: 'rounds', heatPlan: 'P1', operation: '4.1', share: 0, noneMissedIn: [], words: 'Rounds.', ...more },
    ],
    roles: ['crew-lead'],
    meaning: 'It may go on.',
    usuallyMissed: 'nothing',
  });
  const condition = (tablet: TestTablet) =>
    holdState(tablet.view(), tablet.view().plan.holds[0]!).conditions.find((c) => c.id === 'rounds/P1')!;
  /** All rounds of the preheat but those at some hours, then the finish. */
  function walked(more: object, missing: (at_h: number) => boolean): TestTablet {
    const tablet = started(P1, iso(START_MS), [hold(more)]);
    for (const { at_h } of dueRounds(P1)) if (!missing(at_h)) walk(tablet, P1, at_h);
    writeAt(tablet, 'operation', { operation: '4.1', mark: 'finished' }, iso(at(166.3)), lead);
    return tablet;
  }

  it('a share of all, and none missed at a soak', () => {
    const need = { share: 0.95, noneMissedIn: [2, 4, 6] };
    expect(condition(walked(need, (h) => h === 40 || h === 45))).toMatchObject({ met: true, count: [103, 105] });
    const soak = condition(walked(need, (h) => h === 60));
    expect(soak).toMatchObject({ met: false, words: '104 of 105 recorded, 1 missed at a soak' });
    const few = condition(walked(need, (h) => h >= 40 && h < 46));
    expect(few).toMatchObject({ met: false, words: '99 of 105 recorded, fewer than 95 %' });
  });

  it('none missed in its last hours', () => {
    expect(condition(walked({ noneMissedLast_h: 12 }, (h) => h === 45)).met).toBe(true);
    const missed = condition(walked({ noneMissedLast_h: 12 }, (h) => Math.abs(h - 158.2) < 0.01));
    expect(missed).toMatchObject({ met: false, words: '104 of 105 recorded, 1 missed in the last 12 h' });
  });

  it('no gap longer than it allows', () => {
    expect(condition(walked({ greatestGap_h: 8 }, (h) => h > 150 && h < 154)).met).toBe(true);
    const gap = condition(walked({ greatestGap_h: 8 }, (h) => h > 150 && h < 158));
    expect(gap).toMatchObject({ met: false, words: '103 of 105 recorded, a gap of 12.0 h without a round' });
  });

  it('is not met by a heat that was never started', () => {
    const [tablet] = tablets(['A'], planWithHeats([P1], [hold({})]));
    expect(condition(tablet!)).toMatchObject({ met: false, words: 'the heat was not started' });
  });
});

/** Plans of soaks only, so that hours are plain sums; intervals as crews have them. */
const heatPlans = fc
  .array(
    fc.record({
      hours: fc.integer({ min: 1, max: 40 }),
      every: fc.constantFrom(0.25, 0.5, 1, 2, 4),
      key: fc.option(fc.constantFrom(0.25, 0.5, 1), { nil: undefined }),
    }),
    { minLength: 1, maxLength: 4 },
  )
  .map(
    (segments): HeatPlan => ({
      id: 'PX',
      name: 'made for a test',
      operations: ['1'],
      start_C: 20,
      control: ['BP'],
      segments: segments.map(({ hours, every, key }) => ({
        to_C: 20,
        soak_h: hours,
        band_K: 5,
        spread_K: 10,
        rounds: [
          { extent: 'full' as const, every_h: every },
          ...(key === undefined ? [] : [{ extent: 'key' as const, every_h: key }]),
        ],
      })),
    }),
  );

describe('whatever is walked and whenever', () => {
  it('missed and written make up all that was due, each once', () => {
    fc.assert(
      fc.property(
        heatPlans,
        fc.array(fc.tuple(fc.double({ min: -1, max: 100, noNaN: true }), fc.constantFrom('full', 'key')), {
          maxLength: 60,
        }),
        fc.double({ min: 0, max: 160, noNaN: true }),
        (plan, walks, now_h) => {
          const tablet = started(plan);
          for (const [hours, extent] of walks) walk(tablet, plan, hours, { extent: extent as 'full' | 'key' });
          const h = heat(tablet, plan);
          const over = h.rounds.filter((r) => at(now_h) >= r.missedFrom_ms);
          const states = over.map((r) => statusAt(h, r, at(now_h)));
          const missed = states.filter((s) => s === 'missed').length;
          const written = states.filter((s) => s === 'in time' || s === 'written late').length;
          expect(missed + written).toBe(over.length);
          expect(roundsNow(h, at(now_h)).missed.length).toBe(missed);
          const used = h.rounds.flatMap((r) => (r.written ? [r.written.hash] : []));
          expect(new Set(used).size).toBe(used.length);
          for (const r of h.rounds) {
            if (!r.written) continue;
            const walked_ms = Date.parse(r.written.entry.observedAt);
            expect(walked_ms).toBeGreaterThanOrEqual(Math.floor(r.opens_ms));
            expect(walked_ms).toBeLessThan(r.missedFrom_ms);
          }
        },
      ),
      { seed: 11, numRuns: 60 },
    );
  });

  it('a round walked now is written for the one that the screen says', () => {
    fc.assert(
      fc.property(heatPlans, fc.double({ min: 0, max: 60, noNaN: true }), (plan, hours) => {
        const tablet = started(plan);
        const now_ms = Math.floor(at(hours));
        const said = roundForTime(heat(tablet, plan), now_ms, 'full');
        writeAt(tablet, 'round', roundBody(plan), iso(now_ms));
        const filled = heat(tablet, plan).rounds.filter((r) => r.written);
        expect(filled.map((r) => r.number)).toEqual(said ? [said.number] : []);
      }),
      { seed: 12, numRuns: 100 },
    );
  });

  it('runs of missed rounds hold each missed round once and never span segments', () => {
    fc.assert(
      fc.property(
        heatPlans,
        fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 1, maxLength: 20 }),
        (plan, walks) => {
          const tablet = started(plan);
          for (const hours of walks) walk(tablet, plan, hours);
          const state = roundsState(tablet.view(), 'PX');
          const runs = missedRuns(state);
          expect(runs.flat().map((r) => r.number)).toEqual(state.missed.map((r) => r.number));
          for (const run of runs) expect(new Set(run.map((r) => r.segment)).size).toBe(1);
        },
      ),
      { seed: 13, numRuns: 60 },
    );
  });

  it('the greatest gap is that between neighbours', () => {
    const tablet = started(P1);
    for (const hours of [0, 2, 4, 9, 10]) walk(tablet, P1, hours);
    expect(greatestGap_h(heat(tablet, P1), at(12))).toBe(5);
    expect(greatestGap_h(heat(tablet, P1), at(30))).toBe(20);
  });
});
