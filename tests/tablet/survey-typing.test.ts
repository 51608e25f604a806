import { describe, expect, it } from 'vitest';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { instantIn, isLate, readObserved } from '../../src/tablet/app/observed-at.ts';
import { readFigure } from '../../src/tablet/app/read-figure.ts';
import { TypingWay } from '../../src/tablet/app/typing-way.ts';
import { unitTyped } from '../../src/tablet/screens/survey/pass-draft.ts';
import { nextOpen, type StationItem, wallOf } from '../../src/tablet/screens/survey/survey-of.ts';
import { unlikely, unlikelyTemperatures } from '../../src/tablet/screens/survey/unlikely.ts';

/** Types a text with so many ms between the keys and before Enter. */
function typed(text: string, gap_ms: number): string {
  const way = new TypingWay();
  for (let i = 1; i <= text.length; i++) way.text(text.slice(0, i), i * gap_ms);
  return way.end((text.length + 1) * gap_ms);
}

describe('the way in which a text came', () => {
  it('tells a gauge that types from a person', () => {
    expect(typed('3218.96', 4)).toBe('gauge');
    expect(typed('3218.96', 120)).toBe('keypad');
  });

  it('takes no paste, short figure or mended figure for a gauge', () => {
    expect(typed('12', 2)).toBe('keypad');
    const pasted = new TypingWay();
    pasted.text('3218.96', 1);
    expect(pasted.end(2)).toBe('keypad');
    const mended = new TypingWay();
    for (const [i, text] of ['3', '32', '321', '32', '321'].entries()) mended.text(text, i);
    expect(mended.end(6)).toBe('keypad');
  });

  it('begins anew when the field is empty', () => {
    const way = new TypingWay();
    way.text('9', 0);
    way.text('', 500);
    for (const [i, text] of ['3', '32', '321', '3218'].entries()) way.text(text, 1000 + i * 5);
    expect(way.end(1025)).toBe('gauge');
  });
});

describe('an unlikely figure', () => {
  const base = {
    limits: { nominal: 3217.36, lower: 3215.86, upper: 3218.86 },
    unit: 'mm',
    decimals: 2,
    others: [0.2, -0.1, 0.3],
  };
  const ask = (text: string, others = base.others) =>
    unlikely({ ...base, others, text, read: Number(text), value: Number(text) });

  it('is asked about once it is far from nominal', () => {
    expect(ask('3712.36', [])).toBe('3\u202f712.36: 495 mm from nominal. Enter again to keep it.');
    expect(ask('3230.00', [])).toBeNull();
  });

  it('is asked about when two digits swapped would fit the others', () => {
    expect(ask('3271.36')).toContain('3\u202f217.36 would fit');
    expect(ask('3219.40')).toBeNull();
  });

  it('is never asked about within the limits or where nothing limits it', () => {
    expect(ask('3218.10')).toBeNull();
    expect(
      unlikely({ ...base, limits: { nominal: null, lower: null, upper: null }, text: '1', read: 1, value: 1 }),
    ).toBeNull();
  });
});

describe('the unit of a temperature', () => {
  const kept = { text: '24.3', unit: '°C', at: '2026-11-25T08:00:00Z' };

  it.each([
    ['typed on', '24.35', '°C'],
    ['rubbed out from its end', '24.', '°C'],
    ['replaced whole', '75.74', '°F'],
    ['replaced by its own first digit', '2', '°F'],
    ['emptied', '', '°F'],
  ])('after a change of units, %s', (_how, text, unit) => {
    expect(unitTyped(kept, text, '°F')).toBe(unit);
  });

  it('is that of now where nothing stood', () => {
    expect(unitTyped(null, '7', '°F')).toBe('°F');
    expect(unitTyped({ ...kept, text: '' }, '7', '°F')).toBe('°F');
  });
});

describe('an unlikely temperature', () => {
  const plan = buildPlan(practiceDesign);
  const ask = (part: string, scale: string, unit = '°C') => {
    const typed = (text: string) => {
      const read = readFigure(text, unit, '°C');
      return 'typed' in read ? read.typed : null;
    };
    return unlikelyTemperatures(plan, { part: typed(part), scale: typed(scale), partName: 'Tub' });
  };

  it('is asked about beyond what a hall has', () => {
    expect(ask('75.74', '')).toEqual(['Tub 75.74 °C: outside 5 to 45 °C. Enter again to keep it.']);
    expect(ask('24.3', '4.9')).toEqual([
      'Scale 4.9 °C: outside 5 to 45 °C. Enter again to keep it.',
      'Tub 24.3 °C, scale 4.9 °C: 19.4 K apart. Enter again to keep them.',
    ]);
    expect(ask('24.3', '', '°F')).toEqual(['Tub 24.3 °F, −4.3 °C: outside 5 to 45 °C. Enter again to keep it.']);
  });

  it('is not asked about in a common hall', () => {
    expect(ask('24.3', '22.8')).toEqual([]);
    expect(ask('75.74', '73.04', '°F')).toEqual([]);
    expect(ask('45', '30')).toEqual([]);
    expect(ask('', '')).toEqual([]);
  });
});

describe('when a paper reading was observed', () => {
  it('follows the clocks of the casting', () => {
    // Directive 2000/84/EC: summer time ends at 01:00 UTC on the last Sunday in October.
    expect(instantIn('2026-10-24', '14:20', 'Europe/Berlin')?.toISOString()).toBe('2026-10-24T12:20:00.000Z');
    expect(instantIn('2026-10-26', '14:20', 'Europe/Berlin')?.toISOString()).toBe('2026-10-26T13:20:00.000Z');
    expect(instantIn('2026-07-01', '09:00', 'America/Phoenix')?.toISOString()).toBe('2026-07-01T16:00:00.000Z');
  });

  it('is refused in words when it is none, or has not come yet', () => {
    const now = new Date('2026-11-25T11:00:00Z');
    const read = (date: string, time: string) => readObserved(date, time, 'UTC', now);
    expect(read('', '10:00')).toHaveProperty('fault');
    expect(read('2026-13-40', '10:00')).toHaveProperty('fault');
    expect(read('2026-11-25', '11:01')).toEqual({ fault: expect.stringContaining('has not come yet') });
    expect(read('2026-11-25', '10:59')).toHaveProperty('at');
  });

  it('is late after four hours', () => {
    expect(isLate('2026-11-25T08:00:00+01:00', '2026-11-25T10:59:00Z')).toBe(false);
    expect(isLate('2026-11-25T08:00:00+01:00', '2026-11-25T11:01:00Z')).toBe(true);
  });
});

describe('the order of reading', () => {
  const item = (id: string, value: number | null, place: object = {}) =>
    ({ station: { id, label: id, ...place }, value }) as StationItem;

  it('goes on to the next open station, and round to those left out', () => {
    const items = [item('a', null), item('b', 1), item('c', null), item('d', 2)];
    expect(nextOpen(items, 'a')?.station.id).toBe('c');
    expect(nextOpen(items, 'c')?.station.id).toBe('a');
    expect(nextOpen(items, null)?.station.id).toBe('a');
    expect(nextOpen([item('a', 1), item('b', 2)], 'a')).toBeNull();
  });

  it('unrolls a wall with the highest row first', () => {
    const places = [40, 380].flatMap((height_mm) => [7.5, 22.5].map((angle_deg) => ({ angle_deg, height_mm })));
    const wall = wallOf(places.map((p) => item(`${p.angle_deg}@${p.height_mm}`, null, p)))!;
    expect(wall.heights).toEqual([380, 40]);
    expect(wall.angles).toEqual([7.5, 22.5]);
    expect(wall.at(40, 22.5)?.station.id).toBe('22.5@40');
    expect(wallOf([item('a', null), item('b', null)])).toBeNull();
  });
});
