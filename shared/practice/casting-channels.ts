import type { Body } from '../logbook/kinds.ts';
import type { Channel, Plan } from '../plan/schema.ts';
import { type FurnaceMoment, plain, rounded, zonePower } from './preheat-channels.ts';
import type { Random } from './random.ts';

type ChannelReading = Body<'round'>['readings'][number];

/** K behind the plan for each K/h, and K of scatter, by group: glass and its floor follow the crown. */
export type Following = Readonly<Record<string, { lag: number; noise: number; share: number }>>;

export const following: Following = {
  CR: { lag: -0.3, noise: 0.5, share: 1.004 },
  WU: { lag: -0.2, noise: 0.5, share: 1.002 },
  WL: { lag: -0.1, noise: 0.4, share: 1 },
  FC: { lag: 0.05, noise: 0.4, share: 1 },
  MC: { lag: 0.35, noise: 0.3, share: 1 },
  BP: { lag: 0.25, noise: 0.3, share: 1 },
  PY: { lag: 0, noise: 1.5, share: 1.002 },
  FB: { lag: 0.8, noise: 0.4, share: 0.85 },
  BD: { lag: 0.6, noise: 0.6, share: 0.64 },
};
/** In the anneal the glass is even but for the middle, which is warmer by h a² / 2κ. */
export const annealing: Following = {
  CR: { lag: 0, noise: 0.1, share: 1.001 },
  WU: { lag: 0, noise: 0.1, share: 1.0005 },
  WL: { lag: 0, noise: 0.1, share: 0.9995 },
  FC: { lag: 0, noise: 0.08, share: 1 },
  MC: { lag: 9.47, noise: 0.08, share: 1 },
  BP: { lag: 0, noise: 0.08, share: 1 },
};
const CONTROL = 'FC';
/** The pyrometer sees nothing below. */
const PYROMETER_FROM_C = 700;
const HALL_C = 22;

/** One round past all channels of the closed furnace, or the short walk; °C as the readouts show them. */
export function castingRound(
  plan: Plan,
  moment: FurnaceMoment,
  spin_rpm: number,
  extent: 'full' | 'key',
  random: Random,
  ways: Following = following,
): ChannelReading[] {
  // Well insulated: what a ramp takes besides is little.
  const zones = zonePower({ ...moment, rate_K_h: 0 }, random);
  return plan.channels
    .filter((c) => (extent === 'full' || c.key) && !(c.group === 'PY' && moment.planned_C < PYROMETER_FROM_C))
    .map((channel): ChannelReading => {
      switch (channel.group) {
        case 'RJ':
          return plain(channel, channel.id === 'RJ-1' ? 25 : 27 + 0.004 * moment.planned_C + 0.1 * random.normal(), 1);
        case 'HZ':
          return plain(channel, zones[Number(channel.id.slice(3)) - 1] ?? 0, 1);
        case 'HZ-sum': {
          const sum = rounded(
            zones.reduce((a, b) => a + b, 0),
            1,
          );
          return { channel: channel.id, value: sum, state: 'good' };
        }
        case 'SR':
          return plain(channel, spin_rpm, 2);
        default:
          return temperature(channel, moment, random, ways[channel.group] ?? following[channel.group]!);
      }
    });
}

/** °C of a channel without its scatter, never colder than the hall. */
export const castingTemperature = (
  { planned_C, rate_K_h }: FurnaceMoment,
  { lag, share }: Pick<Following[string], 'lag' | 'share'>,
): number => Math.max(HALL_C - 1, HALL_C + share * (planned_C - HALL_C) - lag * rate_K_h);

function temperature(channel: Channel, moment: FurnaceMoment, random: Random, way: Following[string]): ChannelReading {
  const value = castingTemperature(moment, way) + way.noise * random.normal();
  const planned = channel.group === CONTROL ? { planned: rounded(moment.planned_C, 1) } : {};
  return { ...plain(channel, Math.max(HALL_C - 1, value), 1), ...planned };
}
