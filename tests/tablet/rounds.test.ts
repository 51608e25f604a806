import { describe, expect, it } from 'vitest';
import { type Heat, heatOf, roundsNow } from '../../shared/logbook/state/rounds.ts';
import type { View } from '../../shared/logbook/state/view.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import type { Settings } from '../../src/tablet/app/settings.ts';
import { chartScale, spreadLabels, thin } from '../../src/tablet/screens/furnace/chart-scale.ts';
import type { RoundDraft } from '../../src/tablet/screens/furnace/round-draft.ts';
import { entryOf } from '../../src/tablet/screens/furnace/round-entry-of.ts';
import {
  besideOf,
  nextOpen,
  readChannel,
  rowsToKeep,
  type Walk,
  type WalkInput,
  walkOf,
} from '../../src/tablet/screens/furnace/round-input.ts';
import { dueWords, span } from '../../src/tablet/shared-screens/due-words.ts';
import { missedRunsAt } from '../../src/tablet/shared-screens/missed-runs.ts';
import { HOUR_MS, iso, roundBody, START_MS, writeAt } from '../logbook/heat-world.ts';
import { lead, type TestTablet, tablets, technician } from '../logbook/world.ts';

const plan = buildPlan(practiceDesign);
const P1 = plan.heatPlans.find((p) => p.id === 'P1')!;
const settings: Settings = {
  theme: 'hall',
  hand: 'right',
  decimalMark: '.',
  lengthUnit: 'mm',
  temperatureUnit: '°C',
  dueSound: 'off',
};
const empty: RoundDraft = {
  at: null,
  texts: {},
  said: {},
  stands: {},
  gauge: {},
  replaced: {},
  units: {},
  leftOut: null,
  begunAt: null,
  observer: null,
  paper: null,
  words: '',
};
const typed = (texts: Record<string, string>, unit = '°C') =>
  Object.fromEntries(Object.entries(texts).map(([id, text]) => [id, { text, unit }]));

/** A heat of four hours with two rounds; the crown read in mV, one band dead, the cores not read. */
function world(): { tablet: TestTablet; view: View; heat: Heat } {
  const [tablet] = tablets(['A'], plan) as [TestTablet];
  writeAt(tablet, 'operation', { operation: '4.1', mark: 'started', heat: 'P1' }, iso(START_MS));
  const good = (channel: string, value: number, more = {}) => ({ channel, value, state: 'good' as const, ...more });
  const rows = (c: number) => [
    good('RJ-1', 24),
    good('RJ-2', 26),
    ...[1, 2, 3, 4, 5].map((n) => good(`HZ-${n}`, 5 * n)),
    ...[1, 2, 3, 4, 5, 6].map((n) => good(`CR-${n}`, c + n / 10, { typed: { text: '0.3', unit: 'mV', value: 0.3 } })),
    ...[1, 2, 3, 4, 5, 6].map((n) => good(`BP-${n}`, c)),
    { channel: 'BD-3', value: null, state: 'dead' as const, words: 'open circuit', substitute: 'BD-2' },
  ];
  writeAt(tablet, 'round', roundBody(P1, { readings: rows(20) }), iso(START_MS));
  writeAt(tablet, 'round', roundBody(P1, { readings: rows(40) }), iso(START_MS + 2 * HOUR_MS));
  const view = tablet.view();
  return { tablet, view, heat: heatOf(view, P1)! };
}

const { view, heat } = world();
const input = (draft: Partial<RoundDraft>, extent: 'full' | 'key' = 'full'): WalkInput => ({
  view,
  heat,
  extent,
  settings,
  draft: { ...empty, ...draft },
  at_ms: START_MS + 4 * HOUR_MS,
});
const walk = (draft: Partial<RoundDraft>, extent: 'full' | 'key' = 'full') => walkOf(input(draft, extent));
const item = (w: Walk, id: string) => w.items.find((i) => i.channel.id === id)!;

describe('the walk', () => {
  it('goes past the channels in the plan’s order and leaves out what no full round has read', () => {
    const w = walk({});
    const ids = w.items.map((i) => i.channel.id);
    const order = plan.channels.map((c) => c.id).filter((id) => ids.includes(id));
    expect(ids).toEqual(order);
    expect(w.leftOut).toEqual(['HZ-sum', 'WU', 'WL', 'FB', 'MC', 'FC', 'PY', 'SR']);
    expect(walk({ leftOut: [] }).items).toHaveLength(plan.channels.length);
  });

  it('walks the short way in a key round', () => {
    expect(walk({ leftOut: [] }, 'key').items.map((i) => i.channel.id)).toEqual(
      plan.channels.filter((c) => c.key).map((c) => c.id),
    );
  });

  it('passes a dead channel by, until something is typed there', () => {
    const dead = item(walk({}), 'BD-3');
    expect(dead).toMatchObject({ state: 'dead', reason: 'open circuit', substitute: 'BD-2', done: true });
    const alive = item(walk({ texts: typed({ 'BD-3': '61.5' }) }), 'BD-3');
    expect(alive).toMatchObject({ state: 'good', value: 61.5, reason: null, done: true });
  });

  it('goes on to the next channel that is not read, round the end', () => {
    const w = walk({ texts: typed({ 'RJ-1': '24.1', 'RJ-2': '26.2' }) });
    expect(nextOpen(w, 'RJ-1')?.channel.id).toBe('HZ-1');
    expect(nextOpen(w, w.items.at(-1)!.channel.id)?.channel.id).toBe('HZ-1');
  });

  it('adds up the zones, and takes another figure from the panel', () => {
    const zones = typed({ 'HZ-1': '10.1', 'HZ-2': '9,9', 'HZ-3': '8', 'HZ-4': '7', 'HZ-5': '5' }, 'kW');
    const w = walk({ leftOut: [], texts: zones });
    expect(item(w, 'HZ-sum')).toMatchObject({ value: 40, summed: true, done: true });
    const own = walk({ leftOut: [], texts: { ...zones, ...typed({ 'HZ-sum': '41' }, 'kW') } });
    expect(item(own, 'HZ-sum')).toMatchObject({ value: 41, summed: false });
  });

  it('puts a new sensor in place of the one it replaces', () => {
    const w = walk({ replaced: { 'BD-3': 'BD-3a' }, texts: typed({ 'BD-3a': '60.1' }) });
    expect(w.items.some((i) => i.channel.id === 'BD-3')).toBe(false);
    expect(item(w, 'BD-3a')).toMatchObject({ value: 60.1, replaces: 'BD-3' });
    expect(rowsToKeep(heat, w).find((r) => r.channel === 'BD-3a')).toMatchObject({ replaces: 'BD-3', value: 60.1 });
  });

  it('keeps text that cannot be read, and says why', () => {
    const w = walk({ texts: typed({ 'BP-1': '6l.5', 'BP-2': '-300', 'BP-3': '61.2.3' }) });
    for (const id of ['BP-1', 'BP-2', 'BP-3']) expect(item(w, id).done).toBe(false);
    expect(item(w, 'BP-1')).toMatchObject({ text: '6l.5', value: null });
    expect(item(w, 'BP-1').fault).toContain('not a figure');
    expect(item(w, 'BP-2').fault).toContain('below absolute zero');
    expect(item(w, 'BP-3').fault).toContain('two decimal marks');
  });
});

describe('an emf', () => {
  const channel = (id: string) => plan.channels.find((c) => c.id === id)!;

  it('is brought to °C with the junction of its own cabinet in the same round', () => {
    const texts = {
      ...typed({ 'RJ-1': '24', 'RJ-2': '30' }),
      ...typed({ 'CR-1': '9.587', 'BP-1': '9.587' }, 'mV'),
    };
    const w = walk({ texts });
    // Type S: E(1000 °C) is 9.587 mV and the slope near it 11.5 µV/K; E(24) 0.136 mV, E(30) 0.173 mV
    // (NIST SRD 60, tables of type S).
    expect(item(w, 'CR-1').value!).toBeCloseTo(1000 + 136 / 11.54, 0);
    expect(item(w, 'BP-1').value!).toBeCloseTo(1000 + 173 / 11.54, 0);
    expect([item(w, 'CR-1').junction_C, item(w, 'BP-1').junction_C]).toEqual([24, 30]);
    const kept = rowsToKeep(heat, w).find((r) => r.channel === 'CR-1')!;
    expect(kept.typed).toEqual({ text: '9.587', unit: 'mV', value: 9.587 });
    expect(kept.junction_C).toBe(24);
  });

  it('takes the last round’s junction in a short walk that does not pass it, and none from nowhere', () => {
    expect(readChannel(channel('CR-1'), '1.0', 'mV', new Map())).toEqual({
      fault: 'An emf needs its reference junction: read RJ-1 first, or type °C.',
    });
    expect(item(walk({ texts: typed({ 'CR-1': '0.3' }, 'mV') }), 'CR-1').junction_C).toBe(24);
  });

  it('that no such thermocouple gives is said so', () => {
    const read = readChannel(channel('CR-1'), '40', 'mV', new Map([['RJ-1', 24]]));
    expect(read).toMatchObject({ fault: expect.stringContaining('cannot come from a type S thermocouple') });
  });

  it('is offered again where the last round was typed in mV', () => {
    expect(item(walk({}), 'CR-1').unit).toBe('mV');
    expect(item(walk({}), 'BP-1').unit).toBe('°C');
    expect(item(walk({ units: { S: '°C' } }), 'CR-1').unit).toBe('°C');
  });
});

describe('beside the field', () => {
  it('stand last, planned, off the plan and rate', () => {
    const draft = { texts: typed({ 'BP-1': '61.5' }) };
    const w = walk(draft);
    // By hand: 20 °C + 10 K/h · 4 h planned; 20, 40 and 61.5 °C at hours 0, 2 and 4 rise by 10.375 K/h.
    expect(besideOf(input(draft), w, item(w, 'BP-1'))).toMatchObject({
      last: 40,
      last_ms: START_MS + 2 * HOUR_MS,
      planned_C: 60,
      deviation_K: 1.5,
      rate_K_h: 10.375,
      control: true,
      jump: null,
    });
  });

  it('asks about swapped digits once the neighbours or the plan do not explain the jump', () => {
    const draft = { texts: typed({ 'BP-1': '60.2', 'BP-2': '60.4', 'BP-3': '06.1', 'BP-4': '16.0' }) };
    const w = walk(draft);
    const jump = (id: string) => besideOf(input(draft), w, item(w, id)).jump;
    expect(jump('BP-2')).toBeNull();
    expect(jump('BP-3')?.swapped).toBe('60.1');
    expect(jump('BP-4')?.swapped).toBe('61.0');
  });
});

describe('the entry of a round', () => {
  const draft = { texts: typed({ 'RJ-1': '24.1', 'BP-1': '61.5' }), begunAt: iso(START_MS + 4 * HOUR_MS) };
  const entry = (more: Partial<RoundDraft> = {}) => {
    const all = { ...empty, ...draft, ...more };
    return entryOf({
      view,
      heat,
      operation: '4.1',
      extent: 'full',
      draft: all,
      walk: walk(all),
      who: technician.id,
    });
  };

  it('names its due time, keeps what was typed, and holds nothing for what was not read', () => {
    const { body, observedAt } = entry();
    expect(Date.parse(observedAt)).toBe(START_MS + 4 * HOUR_MS);
    expect(Date.parse(body.dueAt!)).toBe(START_MS + 4 * HOUR_MS);
    expect(body).toMatchObject({ heatPlan: 'P1', extent: 'full', way: 'keypad', observer: technician.id });
    expect(body.readings).toEqual([
      { channel: 'RJ-1', typed: { text: '24.1', unit: '°C', value: 24.1 }, value: 24.1, state: 'good' },
      { channel: 'BD-3', value: null, state: 'dead', words: 'open circuit', substitute: 'BD-2' },
      { channel: 'BP-1', typed: { text: '61.5', unit: '°C', value: 61.5 }, value: 61.5, state: 'good', planned: 60 },
    ]);
  });

  it('says another observer, a gauge and paper', () => {
    expect(entry({ observer: lead.id }).body.observer).toBe(lead.id);
    expect(entry({ gauge: { 'RJ-1': true, 'BP-1': true } }).body.way).toBe('gauge');
    expect(entry({ gauge: { 'RJ-1': true } }).body.way).toBe('keypad');
    expect(entry({ paper: { date: '2026-05-04', time: '10:00' } }).body.way).toBe('paper');
  });

  it('lets a suspect channel stand with its value and reason', () => {
    const said = { 'BP-1': { state: 'suspect' as const, reason: 'drifts against its pair', substitute: null } };
    const row = entry({ said }).body.readings.find((r) => r.channel === 'BP-1');
    expect(row).toMatchObject({ value: 61.5, state: 'suspect', words: 'drifts against its pair' });
  });

  it('is kept by the log and fills its due round', () => {
    const fresh = world();
    const { body, observedAt } = entry();
    writeAt(fresh.tablet, 'round', body, observedAt);
    const after = heatOf(fresh.tablet.view(), P1)!;
    expect(after.rounds.slice(0, 3).map((r) => r.written !== null)).toEqual([true, true, true]);
  });
});

describe('due and missed, in words', () => {
  const said = (hours: number) => {
    const now_ms = START_MS + hours * HOUR_MS;
    return dueWords(view.genesis, roundsNow(heat, now_ms), now_ms);
  };

  it('tell what is due, in time, late and to come', () => {
    expect(said(3)).toBe('Round 3, full, is due 10:00, in 60 minutes.');
    expect(said(3.9)).toBe('Round 3 is due 10:00.');
    expect(said(4.1)).toBe('Round 3 was due 10:00: 6 minutes ago, still in time until 10:12.');
    expect(said(4.5)).toBe('Round 3 was due 10:00: 30 minutes late. From 12:00 it is missed.');
    expect(said(170)).toBe('No further round is due in this heat.');
  });

  it('tell spans as crews do', () => {
    expect([1, 8, 89, 90, 200, 1440].map(span)).toEqual([
      '1 minute',
      '8 minutes',
      '89 minutes',
      '1 h 30',
      '3 h 20',
      '24 h',
    ]);
  });

  it('put missed rounds in runs, newest first, each with what was said about it', () => {
    const fresh = world();
    const late_ms = START_MS + 12 * HOUR_MS;
    const runs = () => missedRunsAt(fresh.tablet.view(), heatOf(fresh.tablet.view(), P1)!, late_ms);
    expect(runs().map((r) => [r.first.number, r.last.number, r.count, r.reason])).toEqual([[3, 6, 4, null]]);
    writeAt(fresh.tablet, 'note', { about: 'round/P1/4', text: 'Gas alarm.' }, iso(late_ms));
    expect(runs().map((r) => [r.first.number, r.last.number, r.reason])).toEqual([
      [5, 6, null],
      [4, 4, 'Gas alarm.'],
      [3, 3, null],
    ]);
  });
});

describe('the chart', () => {
  it('keeps every peak of a long line in few points', () => {
    const points = Array.from({ length: 20_000 }, (_, i) => ({ at_ms: i, value: i === 7777 ? 99 : Math.sin(i / 50) }));
    const kept = thin(points, 0, 20_000, 700);
    expect(kept.length).toBeLessThanOrEqual(4 * 700);
    expect(Math.max(...kept.map((p) => p.value))).toBe(99);
    expect(kept[0]).toBe(points[0]);
    expect(kept.at(-1)).toBe(points.at(-1));
    expect(kept.every((p, i) => i === 0 || p.at_ms > kept[i - 1]!.at_ms)).toBe(true);
  });

  it('leaves a short line as it is', () => {
    const points = [1, 2, 3].map((at_ms) => ({ at_ms, value: at_ms }));
    expect(thin(points, 0, 4, 700)).toEqual(points);
  });

  it('sets instants and values on the paper', () => {
    const scale = chartScale({ left: 10, right: 110, top: 0, bottom: 50, from_ms: 0, to_ms: 100, low: -5, high: 5 });
    expect([scale.x(0), scale.x(50), scale.x(100)]).toEqual([10, 60, 110]);
    expect([scale.y(5), scale.y(0), scale.y(-5)]).toEqual([0, 25, 50]);
  });

  it('pushes labels apart and keeps them on the paper', () => {
    const placed = spreadLabels([50, 51, 52, 99], 14, 0, 100);
    const sorted = [...placed].sort((a, b) => a - b);
    expect(sorted.every((y, i) => i === 0 || y - sorted[i - 1]! >= 14 - 1e-9)).toBe(true);
    expect(Math.max(...placed)).toBeLessThanOrEqual(100);
    expect(placed[3]).toBe(Math.max(...placed));
  });
});
