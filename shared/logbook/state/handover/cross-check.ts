import { RefusedInput } from '../../../calculations/calculation.ts';
import { thermocouple } from '../../../calculations/thermocouple.ts';
import type { Channel } from '../../../plan/schema.ts';
import { type ChannelHistory, type ChannelReading, channelsOf, isTemperature, thermocoupleType } from '../channels.ts';
import type { View } from '../view.ts';
import { runningHeats } from './heat-lines.ts';

/** How many channels an incoming lead reads alone. */
const ASKED = 3;
/** Digits of a handover's hash that draw one channel. */
const DIGITS = 8;
const EMF = 'mV';

export interface ChannelToRead {
  readonly channel: Channel;
  /** The last reading of the log that has a figure. */
  readonly last: ChannelReading;
  /** The unit in which it was typed last: a gauge that shows mV is read in mV. */
  readonly unit: string;
}

/**
 * The channels that the incoming lead reads alone: drawn by the hash of the handover among those that are good, so that
 * neither lead chooses them. None while no heat runs or none of its channels is good.
 */
export function channelsToRead(view: View, handover: string): ChannelToRead[] {
  const good = runningHeats(view).flatMap((heat) => channelsOf(view, heat).flatMap(toRead));
  const drawn: ChannelToRead[] = [];
  for (let i = 0; i < ASKED && good.length > 0; i++) {
    const [one] = good.splice(Number.parseInt(handover.slice(i * DIGITS, (i + 1) * DIGITS), 16) % good.length, 1);
    drawn.push(one!);
  }
  return drawn;
}

function toRead({ channel, state, readings }: ChannelHistory): ChannelToRead[] {
  const last = readings.findLast((r) => r.row.value !== null && r.row.typed !== undefined);
  if (state !== 'good' || !last || !isTemperature(channel) || channel.group === 'RJ') return [];
  return [{ channel, last, unit: last.row.typed!.unit === EMF ? EMF : channel.unit }];
}

/** The last figure in the unit in which the channel is to be read. */
export const lastFigure = ({ last, unit }: ChannelToRead): number =>
  unit === EMF ? last.row.typed!.value : last.row.value!;

/**
 * How far a reading lies from the last one of the log, in K; an emf is brought to °C with the reference junction of that
 * one. Null where no thermocouple of the type gives such an emf.
 */
export function apart_K({ channel, last, unit }: ChannelToRead, read: number): number | null {
  const type = thermocoupleType(channel);
  const { value, junction_C } = last.row;
  if (unit !== EMF || type === null || junction_C === undefined) return read - lastFigure({ channel, last, unit });
  try {
    const input = { type, emf_mV: read, reference_junction_C: junction_C };
    return thermocouple.compute(input).temperature_C! - value!;
  } catch (error) {
    if (error instanceof RefusedInput) return null;
    throw error;
  }
}
