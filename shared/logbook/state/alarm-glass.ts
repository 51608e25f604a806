import { workedOut as by, given } from '../../calculations/calculation.ts';
import { rate } from '../../calculations/rate.ts';
import { type AlarmCase, goodOf, type Hit, type Hits, hoursFrom, lastHours, type Moment } from './alarm-round.ts';

/** A line has a slope from two readings on, but not one that says how far to trust it. */
const LEAST_READINGS = 3;

/** A3: a glass channel cools faster than its range permits. Readings above all ranges count for nothing. */
export function coolingHits(asked: AlarmCase<'cooling'>): Hits {
  const rounds = lastHours(asked, asked.watch.window_h);
  const judged = goodOf(asked.now, asked.watch.groups).flatMap(({ id, value }) => {
    const found = coolingOf(asked, rounds, id, value);
    return found ? [found] : [];
  });
  if (judged.length === 0) return new Map();
  const hits = judged.filter((j) => j.cooling_K_h > j.most_K_h);
  if (hits.length === 0) return new Map([['', null]]);
  const worst = hits.reduce((a, b) => (b.cooling_K_h / b.most_K_h > a.cooling_K_h / a.most_K_h ? b : a));
  const { id, value, cooling_K_h, most_K_h, span_h, input } = worst;
  const hit: Hit = {
    words: `${id} at ${value.toFixed(1)} °C cooled at ${cooling_K_h.toFixed(3)} K/h, fitted over ${span_h.toFixed(0)} h; permitted there is ${most_K_h} K/h. ${hits.length} of ${judged.length} glass channels cool too fast.`,
    excess: cooling_K_h / most_K_h,
    lines: [
      given('limit', `permitted at ${value.toFixed(1)} °C`, most_K_h, 'K/h', asked.alarm.source ?? 'plan'),
      by('−rate', `of ${id}, beyond the limit`, cooling_K_h, 'K/h', 'least squares', 'rate, below'),
    ],
    worked: { calculation: rate.name, input },
  };
  return new Map([['', hit]]);
}

function coolingOf({ watch, now }: AlarmCase<'cooling'>, rounds: readonly Moment[], id: string, value: number) {
  const range = watch.ranges.find(({ from_C, to_C }) => value <= from_C && value > (to_C ?? Number.NEGATIVE_INFINITY));
  const hottest_C = watch.ranges[0]?.from_C;
  if (!range || hottest_C === undefined) return null;
  const read = rounds.flatMap((m) => {
    const temperature_C = m.good.get(id);
    return temperature_C !== undefined && temperature_C <= hottest_C ? [{ at_ms: m.at_ms, temperature_C }] : [];
  });
  const first_ms = read[0]!.at_ms;
  const span_h = hoursFrom(first_ms, now.at_ms);
  if (read.length < LEAST_READINGS || span_h < watch.least_h) return null;
  const input = {
    readings: read.map(({ at_ms, temperature_C }) => ({ at_h: hoursFrom(first_ms, at_ms), temperature_C })),
  };
  return { id, value, span_h, input, cooling_K_h: -rate.compute(input).rate_K_h, most_K_h: range.most_K_h };
}

/** A9: a channel stands higher than it had come down to in the watched segment. */
export function riseHits({ watch, now }: AlarmCase<'rise'>): Hits {
  if (now.control?.planned.segment !== watch.segment) return new Map();
  const judged = goodOf(now, watch.groups).flatMap(({ id, value }) => {
    const low = now.lows.get(id);
    return low === undefined ? [] : [{ id, value, low, rise_K: value - low }];
  });
  if (judged.length === 0) return new Map();
  const hits = judged.filter((j) => j.rise_K > watch.move_K);
  if (hits.length === 0) return new Map([['', null]]);
  const { id, value, low, rise_K } = hits.reduce((a, b) => (b.rise_K > a.rise_K ? b : a));
  const hit: Hit = {
    words: `${id} rose by ${rise_K.toFixed(1)} K to ${value.toFixed(1)} °C; nothing may rise by more than ${watch.move_K} K in segment ${watch.segment}. ${hits.length} of ${judged.length} channels rose further.`,
    excess: rise_K / watch.move_K,
    lines: [
      given('low', `least of ${id} in this segment so far`, low, '°C', 'round'),
      given('T', `${id} in this round`, value, '°C', 'round'),
      given('limit', 'most that it may rise', watch.move_K, 'K', 'alarm of the plan'),
      by('rise', 'beyond the limit', rise_K, 'K', `${value} − ${low}`),
    ],
  };
  return new Map([['', hit]]);
}

/** The least of each watched channel in the watched segment, with this round. */
export function lowsWith({ watch, now }: AlarmCase<'rise'>): Moment['lows'] {
  if (now.control?.planned.segment !== watch.segment) return now.lows;
  const lows = new Map(now.lows);
  for (const { id, value } of goodOf(now, watch.groups)) lows.set(id, Math.min(value, lows.get(id) ?? value));
  return lows;
}
