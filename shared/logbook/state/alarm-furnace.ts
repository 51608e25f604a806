import { workedOut as by, given } from '../../calculations/calculation.ts';
import { limitsAt, SINGLE_STATION } from '../../plan/lookup.ts';
import { type AlarmCase, goodOf, type Hit, type Hits, hoursFrom, lastHours, mean } from './alarm-round.ts';

/** Fewer say nothing of a day. */
const LEAST_READINGS = 3;

/** A5: a reference junction too hot, or moving. Where rounds are hours apart a move counts by the hour. */
export function junctionHits({ watch, before, now }: AlarmCase<'junction'>): Hits {
  return new Map(
    goodOf(now, watch.groups).map(({ id, value }) => {
      const earlier = before.filter((m) => m.good.has(id));
      const within = lastHours({ before: earlier, now }, watch.window_h).slice(0, -1);
      const compared = within.length === 0 ? earlier.slice(-1) : within;
      const moves = compared.map((m) => {
        const over_h = hoursFrom(m.at_ms, now.at_ms);
        const was = m.good.get(id)!;
        return {
          was,
          over_h,
          move_K: Math.abs(value - was),
          most_K: watch.move_K * Math.max(1, over_h / watch.window_h),
        };
      });
      const worst = moves.reduce<(typeof moves)[number] | null>(
        (a, b) => (a === null || b.move_K / b.most_K > a.move_K / a.most_K ? b : a),
        null,
      );
      return [id, tooHot(watch, id, value) ?? (worst && moved(watch, id, value, worst))];
    }),
  );
}

function tooHot({ most_C }: AlarmCase<'junction'>['watch'], id: string, value: number): Hit | null {
  if (value <= most_C) return null;
  return {
    words: `${id} stood at ${value.toFixed(1)} °C; above ${most_C} °C every emf that is read against it is doubtful.`,
    excess: value / most_C,
    lines: [
      given('limit', 'most for a reference junction', most_C, '°C', 'alarm of the plan'),
      given(id, 'in this round, beyond the limit', value, '°C', 'round'),
    ],
  };
}

interface Move {
  readonly was: number;
  readonly over_h: number;
  readonly move_K: number;
  readonly most_K: number;
}

function moved({ move_K: perWindow_K, window_h }: AlarmCase<'junction'>['watch'], id: string, value: number, m: Move) {
  if (m.move_K <= m.most_K) return null;
  return {
    words: `${id} moved by ${m.move_K.toFixed(1)} K in ${m.over_h.toFixed(1)} h, to ${value.toFixed(1)} °C; beyond ${perWindow_K} K in ${window_h} h every emf that is read against it is doubtful.`,
    excess: m.move_K / m.most_K,
    lines: [
      given('before', `${id} earlier`, m.was, '°C', 'round'),
      given('now', `${id} in this round`, value, '°C', 'round'),
      given('t', 'time between', m.over_h, 'h', 'round'),
      by(
        'limit',
        'most in that time',
        m.most_K,
        'K',
        m.over_h > window_h ? `${perWindow_K} · ${m.over_h.toFixed(3)} / ${window_h}` : `${perWindow_K}`,
        'alarm of the plan',
      ),
      by('move', 'beyond the limit', m.move_K, 'K', `|${value} − ${m.was}|`),
    ],
  };
}

/** A7: the table turns outside its limits while glass is hot; from the first round in which it turned within them. */
export function spinHits(asked: AlarmCase<'spin'>): Hits {
  const { watch, now } = asked;
  const turning = goodOf(now, [watch.rateGroup])[0];
  const glass = goodOf(now, watch.groups);
  if (!turning || glass.length === 0 || !spunWith(asked)) return new Map();
  const hottest = glass.reduce((a, b) => (b.value > a.value ? b : a));
  const { lower, upper } = spinLimits(asked);
  const isOut = turning.value < lower || turning.value > upper;
  if (hottest.value <= watch.above_C || !isOut) return new Map([['', null]]);
  const { id, value } = turning;
  const beyond = value < lower ? lower - value : value - upper;
  const hit: Hit = {
    words: `The table turned at ${value} rpm, limits ${lower} to ${upper} rpm, with ${hottest.id} at ${hottest.value.toFixed(1)} °C: above ${watch.above_C} °C the glass follows.`,
    excess: beyond,
    lines: [
      given('hottest', `${hottest.id}, above ${watch.above_C} °C`, hottest.value, '°C', 'round'),
      given('lower', 'limit of the rate', lower, 'rpm', 'plan'),
      given('upper', 'limit of the rate', upper, 'rpm', 'plan'),
      given(id, 'in this round', value, 'rpm', 'round'),
      by('beyond', 'outside by', beyond, 'rpm', value < lower ? `${lower} − ${value}` : `${value} − ${upper}`),
    ],
  };
  return new Map([['', hit]]);
}

function spinLimits({ plan, watch }: AlarmCase<'spin'>): { lower: number; upper: number } {
  const { lower, upper } = limitsAt(plan, watch.characteristic, watch.operation, SINGLE_STATION.id);
  return { lower: lower ?? Number.NEGATIVE_INFINITY, upper: upper ?? Number.POSITIVE_INFINITY };
}

/** Whether the table has been at its rate: before that it is being brought up. */
export function spunWith(asked: AlarmCase<'spin'>): boolean {
  const { now, watch } = asked;
  const turning = goodOf(now, [watch.rateGroup])[0];
  const { lower, upper } = spinLimits(asked);
  return now.spun || (turning !== undefined && turning.value >= lower && turning.value <= upper);
}

/** A8: a zone takes more or less than on its last day, while the furnace stayed where it was. */
export function powerHits(asked: AlarmCase<'power'>): Hits {
  const { watch, now } = asked;
  const rounds = lastHours(asked, watch.window_h).filter((m) => !m.leadIn);
  const { control } = now;
  if (!control) return new Map();
  const controls = rounds.flatMap((m) => m.control?.mean ?? []);
  const moved_K = Math.max(...controls.map((c) => Math.abs(c - control.mean)));
  if (moved_K > watch.move_K) return new Map();
  return new Map(
    goodOf(now, watch.groups).flatMap(({ id, value }): [string, Hit | null][] => {
      const day = rounds.slice(0, -1).filter((m) => m.good.has(id));
      const enough = day.length >= LEAST_READINGS && hoursFrom(day[0]!.at_ms, now.at_ms) >= watch.least_h;
      return enough
        ? [[id, powerHit(watch, id, value, mean(day.map((m) => m.good.get(id)!)), day.length, moved_K)]]
        : [];
    }),
  );
}

function powerHit(
  { share, least_kW }: AlarmCase<'power'>['watch'],
  id: string,
  value: number,
  usual: number,
  count: number,
  moved_K: number,
): Hit | null {
  const by_kW = Math.abs(value - usual);
  const most_kW = Math.max(share * usual, least_kW);
  if (by_kW <= most_kW) return null;
  return {
    words: `${id} took ${value.toFixed(1)} kW, ${by_kW.toFixed(1)} kW ${value > usual ? 'more' : 'less'} than its mean of the last day, ${usual.toFixed(1)} kW, while the control mean moved by no more than ${moved_K.toFixed(1)} K.`,
    excess: by_kW / most_kW,
    lines: [
      given('n', 'rounds of the last day', count, '–', 'rounds'),
      by('mean', `of ${id} in those`, usual, 'kW', 'Σ P / n'),
      given('P', `${id} in this round`, value, 'kW', 'round'),
      by(
        'limit',
        `most difference, never less than ${least_kW} kW`,
        most_kW,
        'kW',
        `${share} · mean`,
        'alarm of the plan',
      ),
      by('difference', 'beyond the limit', by_kW, 'kW', '|P − mean|'),
    ],
  };
}
