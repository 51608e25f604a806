import type { Outcome } from '../../calculations/calculation.ts';
import { runCalculation } from '../../calculations/calculation.ts';
import { conformity } from '../../calculations/conformity.ts';
import { rate } from '../../calculations/rate.ts';
import { sensorCorrection } from '../../calculations/sensor-correction.ts';
import { thermocoupleTolerance } from '../../calculations/thermocouple-tolerance.ts';
import { characteristicById } from '../../plan/lookup.ts';
import type { Channel, Limits } from '../../plan/schema.ts';
import type { Verdict } from '../kinds.ts';
import { type ChannelHistory, channelsOf, thermocoupleType } from './channels.ts';
import { type Instrument, instrument } from './instruments.ts';
import type { Heat } from './rounds.ts';
import type { View } from './view.ts';

const HOUR_MS = 3_600_000;
const WEEK_H = 168;

/** How a channel and one that it is compared with have gone apart over the last week. */
export interface PairDrift {
  readonly other: string;
  /** This one less the other, K, at each round in which both were good; oldest first. */
  readonly differences: readonly { readonly at_ms: number; readonly value: number }[];
  /** Null with fewer than three rounds. */
  readonly drift_K_week: number | null;
  readonly standardError_K_week: number | null;
  /** Of the drift against the plan's limit of it, by `conformity`; null without one of the two. */
  readonly verdict: Verdict | null;
}

/** What is known of the sensor behind a channel. */
export interface SensorFacts {
  readonly channel: Channel;
  readonly history: ChannelHistory | null;
  /** The last good reading, °C. */
  readonly last: { readonly at_ms: number; readonly value: number } | null;
  /** The tolerance of its type and class at that reading; null for what is no thermocouple. */
  readonly tolerance: { readonly class: 1 | 2 | 3; readonly outcome: Outcome<{ tolerance_K: number }> } | null;
  /** The register's line with corrections; null where it has none. */
  readonly calibration: Instrument | null;
  readonly corrected: Outcome<{ correction_K: number; corrected_C: number; outside_K: number }> | null;
  readonly pairs: readonly PairDrift[];
}

/** Sensor, pairs and corrections of a channel in a heat. */
export function sensorFacts(view: View, heat: Heat | null, channel: Channel): SensorFacts {
  const all = heat ? channelsOf(view, heat) : [];
  const history = all.find((h) => h.channel.id === channel.id) ?? null;
  const last = history ? (goodOf(history).at(-1) ?? null) : null;
  const type = thermocoupleType(channel);
  const sensorClass = classOf(view, channel);
  const calibration = calibrationOf(view, channel);
  const limits = characteristicById(view.plan, 'channel-drift')?.limits[0] ?? null;
  return {
    channel,
    history,
    last,
    tolerance:
      type === null || sensorClass === null || last === null
        ? null
        : {
            class: sensorClass,
            outcome: runCalculation(thermocoupleTolerance, { type, class: sensorClass, temperature_C: last.value }),
          },
    calibration,
    corrected:
      calibration && last
        ? runCalculation(sensorCorrection, {
            points: calibration.line.corrections!.map((c) => ({ indicated_C: c.at, correction_K: c.correction })),
            indicated_C: last.value,
          })
        : null,
    pairs: history
      ? comparedWith(channel).flatMap((id) => {
          const other = all.find((h) => h.channel.id === id);
          return other ? [pairDrift(history, other, limits)] : [];
        })
      : [],
  };
}

/** The pair first, then those across. */
const comparedWith = (channel: Channel): string[] => [
  ...(channel.pair ? [channel.pair] : []),
  ...(channel.across ?? []),
];

function goodOf(history: ChannelHistory): { at_ms: number; value: number }[] {
  return history.readings.flatMap(({ at_ms, row }) =>
    row.state === 'good' && row.value !== null ? [{ at_ms, value: row.value }] : [],
  );
}

/** A straight line through the differences of the last week, by the calculation `rate`. */
function pairDrift(own: ChannelHistory, other: ChannelHistory, limits: Limits | null): PairDrift {
  const others = new Map(goodOf(other).map((r) => [r.at_ms, r.value]));
  const differences = goodOf(own).flatMap(({ at_ms, value }) => {
    const beside = others.get(at_ms);
    return beside === undefined ? [] : [{ at_ms, value: value - beside }];
  });
  const until = differences.at(-1)?.at_ms ?? 0;
  const week = differences.filter((d) => until - d.at_ms <= WEEK_H * HOUR_MS);
  const outcome = runCalculation(rate, {
    readings: week.map((d) => ({ at_h: (d.at_ms - until) / HOUR_MS, temperature_C: d.value })),
  });
  const fitted = 'result' in outcome && week.length >= 3 ? outcome.result : null;
  const drift_K_week = fitted && fitted.rate_K_h * WEEK_H;
  const standardError_K_week = fitted?.standard_error_K_h == null ? null : fitted.standard_error_K_h * WEEK_H;
  return { other: other.channel.id, differences, drift_K_week, standardError_K_week, verdict: judged() };

  function judged(): Verdict | null {
    if (drift_K_week === null || standardError_K_week === null || limits === null) return null;
    const outcome = runCalculation(conformity, {
      value: drift_K_week,
      standard_uncertainty: standardError_K_week,
      ...(limits.lower === null ? {} : { lower_limit: limits.lower }),
      ...(limits.upper === null ? {} : { upper_limit: limits.upper }),
    });
    return 'result' in outcome ? outcome.result.verdict : null;
  }
}

/** The instrument class of a channel's sensor says its tolerance class in words. */
function classOf(view: View, channel: Channel): 1 | 2 | 3 | null {
  const of = view.plan.instrumentClasses.find((c) => c.id === `T${channel.type}`);
  const said = /class ([123])/.exec(of?.name ?? '')?.[1];
  return said === undefined ? null : (Number(said) as 1 | 2 | 3);
}

/** A line of the register that bears the channel's own name, with corrections. */
export function calibrationOf(view: View, channel: Channel): Instrument | null {
  const found = instrument(view, channel.id);
  return (found?.line.corrections?.length ?? 0) > 0 ? found : null;
}
