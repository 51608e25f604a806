import { thermocouple } from '../calculations/thermocouple.ts';
import type { Body } from '../logbook/kinds.ts';
import type { Channel, Plan } from '../plan/schema.ts';
import { typedOf } from './judged-reading.ts';
import type { Random } from './random.ts';

type ChannelReading = Body<'round'>['readings'][number];

/** What the furnace does at the time of a round. */
export interface FurnaceMoment {
  readonly planned_C: number;
  readonly rate_K_h: number;
  /** Hours from the start of the heat. */
  readonly hour: number;
}

/** Channels that live while the tub is empty: no cores and no glass, so none in or on them. */
const liveGroups: ReadonlySet<string> = new Set(['RJ', 'HZ', 'HZ-sum', 'CR', 'WU', 'WL', 'BD', 'FB', 'BP', 'SR']);
/** Groups whose cables end in the rotating cabinet. */
const rotating: ReadonlySet<string> = new Set(['BD', 'FB', 'BP']);
const CONTROL = 'BP';
const HALL_C = 22;
const PEAK_C = 1180;
const TURNING_ABOVE_C = 200;

/** How a group follows the plan: share of the way up from the hall, K of lead for each K/h, K of spread at the peak. */
const following: Readonly<Record<string, { share: number; lead: number; spread: number; noise: number }>> = {
  CR: { share: 1.006, lead: 0.5, spread: 6, noise: 0.5 },
  WU: { share: 1.003, lead: 0.35, spread: 6, noise: 0.5 },
  WL: { share: 1, lead: 0.2, spread: 5, noise: 0.4 },
  BP: { share: 1.001, lead: -0.12, spread: 4, noise: 0.3 },
  FB: { share: 0.84, lead: -0.6, spread: 8, noise: 0.4 },
  BD: { share: 0.62, lead: -0.5, spread: 9, noise: 0.6 },
};

/** A junction whose wire broke, and one that wandered from its pair. */
const dead = { channel: 'BD-3', from_h: 84, words: 'open circuit' };
const suspect = { channel: 'WL-5', from_h: 92, words: 'drifts against its pair' };

/** One full round past the channels that live in the preheat, in walking order. */
export function preheatRound(plan: Plan, moment: FurnaceMoment, random: Random): ChannelReading[] {
  const junctions = {
    'RJ-1': 24 + 0.5 * random.normal(),
    'RJ-2': 26 + 0.004 * moment.planned_C + 0.5 * random.normal(),
  };
  const zones = zonePower(moment, random);
  return plan.channels
    .filter((channel) => liveGroups.has(channel.group))
    .map((channel): ChannelReading => {
      switch (channel.group) {
        case 'RJ':
          return plain(channel, junctions[channel.id as keyof typeof junctions], 1);
        case 'HZ':
          return plain(channel, zones[Number(channel.id.slice(3)) - 1] ?? 0, 1);
        case 'HZ-sum':
          return {
            channel: channel.id,
            value: rounded(
              zones.reduce((a, b) => a + b, 0),
              1,
            ),
            state: 'good',
          };
        case 'SR':
          return plain(channel, moment.planned_C > TURNING_ABOVE_C ? 0.1 : 0, 2);
        default:
          return junction(channel, moment, junctions[rotating.has(channel.group) ? 'RJ-2' : 'RJ-1'], random);
      }
    });
}

export const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals));

/** A figure as a panel shows it. */
export function plain(channel: Channel, value: number, decimals: number): ChannelReading {
  const typed = typedOf(value, decimals, channel.unit);
  return { channel: channel.id, typed, value: typed.value, state: 'good' };
}

/** kW by zone: what a hotter furnace loses, and what it takes to heat it. */
export function zonePower({ planned_C, rate_K_h }: FurnaceMoment, random: Random): number[] {
  const hot = (planned_C - HALL_C) / PEAK_C;
  return [14, 17, 15, 9, 4].map((most) =>
    rounded(Math.max(0, most * (hot + 0.016 * rate_K_h) * (1 + 0.015 * random.normal())), 1),
  );
}

/** What a logger shows of a channel before its scatter, K; null for channels that do not live in the preheat. */
export function preheatLogged(channel: Channel, moment: FurnaceMoment): { value: number | null; noise: number } | null {
  const way = following[channel.group];
  if (!way) return null;
  if (channel.id === dead.channel && moment.hour >= dead.from_h) return { value: null, noise: way.noise };
  return { value: temperature(channel, moment) - wandered(channel, moment.hour), noise: way.noise };
}

/** How far the suspect junction has wandered, K. */
const wandered = (channel: Channel, hour: number): number =>
  channel.id === suspect.channel && hour >= suspect.from_h ? Math.min(14, 0.6 * (hour - suspect.from_h)) : 0;

function junction(channel: Channel, moment: FurnaceMoment, reference_C: number, random: Random): ChannelReading {
  const planned = channel.group === CONTROL ? { planned: rounded(moment.planned_C, 1) } : {};
  const true_C = temperature(channel, moment) + (following[channel.group]?.noise ?? 0) * random.normal();
  if (channel.id === dead.channel && moment.hour >= dead.from_h)
    return { channel: channel.id, value: null, state: 'dead', words: dead.words, ...planned };
  const wanders = channel.id === suspect.channel && moment.hour >= suspect.from_h;
  const read_C = true_C - wandered(channel, moment.hour);
  const said = wanders ? ({ state: 'suspect', words: suspect.words } as const) : ({ state: 'good' } as const);
  return { channel: channel.id, ...asTyped(channel, read_C, reference_C), ...said, ...planned };
}

/** Type S comes as emf and is turned into °C with the reference junction; the readout of type N shows °C itself. */
function asTyped(channel: Channel, read_C: number, reference_C: number): Pick<ChannelReading, 'typed' | 'value'> {
  if (channel.type !== 'S') {
    const typed = typedOf(read_C, 1, channel.unit);
    return { typed, value: typed.value };
  }
  const junction = { type: 'S', reference_junction_C: rounded(reference_C, 1) } as const;
  const { emf_mV } = thermocouple.compute({ ...junction, temperature_C: read_C });
  const typed = typedOf(emf_mV!, 3, 'mV');
  return { typed, value: rounded(thermocouple.compute({ ...junction, emf_mV: typed.value }).temperature_C!, 1) };
}

/** °C at a channel: its group's way of following the plan, hotter on one side of the furnace. */
function temperature({ group, angle_deg = 0, radius_mm = 0 }: Channel, { planned_C, rate_K_h }: FurnaceMoment): number {
  const { share, lead, spread } = following[group]!;
  const hot = (planned_C - HALL_C) / PEAK_C;
  const outside = radius_mm === 0 && group === CONTROL ? 0 : 1;
  const side = outside * (spread / 2) * hot * Math.cos(((angle_deg - 140) * Math.PI) / 180);
  return HALL_C + share * (planned_C - HALL_C) + lead * rate_K_h * Math.min(1, 4 * Math.max(hot, 0)) + side;
}
