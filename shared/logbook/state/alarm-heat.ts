import { workedOut as by, given } from '../../calculations/calculation.ts';
import { conformity } from '../../calculations/conformity.ts';
import { rate } from '../../calculations/rate.ts';
import type { HeatPlan } from '../../plan/schema.ts';
import { type AlarmCase, goodOf, type Hit, type Hits, hoursFrom, lastHours, type Moment, mean } from './alarm-round.ts';
import { hourAt, segmentEnds } from './heat.ts';

/** A1: the control mean outside its band, or the control channels further apart than the spread. */
export function bandHits({ now }: AlarmCase<'band'>): Hits {
  const { control } = now;
  if (!control) return new Map();
  const { planned, deviation_K, spread_K, standardUncertainty_K: u, verdict, spreadVerdict } = control;
  if (verdict !== 'outside' && spreadVerdict !== 'outside') return new Map([['', null]]);
  const off = verdict === 'outside';
  const hit: Hit = off
    ? {
        words: `The control mean was ${control.mean.toFixed(1)} °C, ${signed(deviation_K)} K off the plan; the band is ±${planned.band_K} K.`,
        excess: Math.abs(deviation_K) / planned.band_K,
        lines: [
          given('mean', `of ${control.counted} control channels`, control.mean, '°C', 'round'),
          given('planned', 'at the time of the round', planned.planned_C, '°C', 'heat plan'),
          given('band', 'either way', planned.band_K, 'K', 'heat plan'),
        ],
        worked: {
          calculation: conformity.name,
          input: {
            value: control.mean,
            standard_uncertainty: u,
            lower_limit: planned.planned_C - planned.band_K,
            upper_limit: planned.planned_C + planned.band_K,
          },
        },
      }
    : {
        words: `The control channels lay ${spread_K.toFixed(1)} K apart; the spread is ${planned.spread_K} K.`,
        excess: spread_K / planned.spread_K,
        lines: [
          given('apart', `greatest less least of ${control.counted} control channels`, spread_K, 'K', 'round'),
          given('spread', 'most', planned.spread_K, 'K', 'heat plan'),
        ],
        worked: {
          calculation: conformity.name,
          input: { value: spread_K, standard_uncertainty: Math.SQRT2 * u, upper_limit: planned.spread_K },
        },
      };
  return new Map([['', hit]]);
}

const signed = (value: number): string => `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(1)}`;

/** A2: the control channels move faster than so many times the plan. Soaks have no rate: A1 watches those. */
export function rateHits(asked: AlarmCase<'rate'>): Hits {
  const { heat, watch, now } = asked;
  const fit = controlFit(asked);
  if (!fit) return new Map();
  const hours = [fit.from_ms, now.at_ms].map((at) => hourAt(heat, at)) as [number, number];
  const planned_K_h = fastest(heat.plan, hours);
  const most_K_h = watch.times * planned_K_h;
  const { rate_K_h } = rate.compute(fit.input);
  if (planned_K_h === 0 || Math.abs(rate_K_h) <= most_K_h) return new Map([['', null]]);
  const over_h = hoursFrom(fit.from_ms, now.at_ms);
  return new Map([
    [
      '',
      {
        words: `The control mean moved at ${rate_K_h.toFixed(1)} K/h over ${over_h.toFixed(1)} h; the plan has ${planned_K_h} K/h.`,
        excess: Math.abs(rate_K_h) / most_K_h,
        lines: [
          given('n', 'control channels that were good in each of the rounds', fit.channels, '–'),
          given('plan', 'fastest rate of the plan in this time', planned_K_h, 'K/h', 'heat plan'),
          by('limit', 'most', most_K_h, 'K/h', `${watch.times} · ${planned_K_h}`, 'alarm of the plan'),
          by('|rate|', 'beyond the limit', Math.abs(rate_K_h), 'K/h', 'least squares', 'rate, below'),
        ],
        worked: { calculation: rate.name, input: fit.input },
      },
    ],
  ]);
}

/**
 * The means of the control channels over the window, or over the last two rounds where they are further apart; of those
 * channels alone that were good in each, since a mean over others would jump.
 */
function controlFit({ heat, watch, before, now }: AlarmCase<'rate'>) {
  const own = { before: before.filter((m) => m.control !== null), now };
  const near = lastHours(own, watch.window_h);
  const rounds = near.length < 2 ? [...own.before.slice(-1), now] : near;
  const first = rounds[0]!;
  if (now.control === null || first.at_ms === now.at_ms) return null;
  const common = goodOf(now, heat.plan.control).filter(({ id }) => rounds.every((m) => m.good.has(id)));
  if (common.length === 0) return null;
  const meanOf = (m: Moment) => mean(common.map(({ id }) => m.good.get(id)!));
  return {
    from_ms: first.at_ms,
    channels: common.length,
    input: {
      readings: rounds.map((m) => ({ at_h: hoursFrom(first.at_ms, m.at_ms), temperature_C: meanOf(m) })),
    },
  };
}

/** The fastest rate of the segments between two hours of a heat plan, either way; 0 where all are soaks. */
function fastest(plan: HeatPlan, [from_h, to_h]: readonly [number, number]): number {
  const ends = segmentEnds(plan);
  const touched = plan.segments.filter((_, i) => ends[i]! > from_h && (ends[i - 1] ?? 0) < to_h);
  return Math.max(0, ...touched.map((s) => s.rate_K_h ?? 0));
}
