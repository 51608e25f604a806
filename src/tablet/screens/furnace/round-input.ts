import { RefusedInput } from '../../../../shared/calculations/calculation.ts';
import { thermocouple } from '../../../../shared/calculations/thermocouple.ts';
import {
  type ChannelHistory,
  type ChannelState,
  channelsOf,
  isControl,
  isTemperature,
  junctionOf,
  neighboursOf,
  type RoundRow,
  rateOver,
  thermocoupleType,
  type ValueRow,
} from '../../../../shared/logbook/state/channels.ts';
import { type Planned, plannedAt } from '../../../../shared/logbook/state/heat.ts';
import { type Jump, jumpOf } from '../../../../shared/logbook/state/jump.ts';
import type { Heat } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Channel } from '../../../../shared/plan/schema.ts';
import { readFigure } from '../../app/read-figure.ts';
import type { Settings } from '../../app/settings.ts';
import { typingUnit } from '../../app/units.ts';
import type { RoundDraft } from './round-draft.ts';

export const EMF = 'mV';

/** One channel on the walk. */
export interface WalkItem {
  readonly channel: Channel;
  readonly history: ChannelHistory;
  /** What the last rounds say, or what this one says instead. */
  readonly state: Exclude<ChannelState, 'replaced'>;
  readonly reason: string | null;
  readonly substitute: string | null;
  readonly text: string;
  readonly unit: string;
  /** In the channel's unit; null while nothing readable is typed. */
  readonly value: number | null;
  readonly fault: string | null;
  /** The reference junction used, °C, where an emf was typed. */
  readonly junction_C: number | null;
  /** Worked out from others, not typed. */
  readonly summed: boolean;
  /** It is read, summed or dead: the walk goes past it. */
  readonly done: boolean;
  readonly replaces: string | null;
}

export interface Walk {
  readonly items: readonly WalkItem[];
  /** Groups that this round leaves out. */
  readonly leftOut: readonly string[];
  readonly done: number;
  /** When the round is read, ms. */
  readonly at_ms: number;
  readonly planned: Planned;
  readonly rows: readonly ValueRow[];
}

export interface WalkInput {
  readonly view: View;
  readonly heat: Heat;
  readonly extent: 'full' | 'key';
  readonly draft: RoundDraft;
  readonly settings: Settings;
  readonly at_ms: number;
}

/** The channels of a round in walking order with what is typed of them. */
export function walkOf(input: WalkInput): Walk {
  const { view, heat, extent, draft, at_ms } = input;
  const all = channelsWith(channelsOf(view, heat), draft);
  const leftOut = draft.leftOut ?? groupsLeftOut(view, heat);
  const walked = all.filter(
    ({ channel, state }) =>
      state !== 'replaced' && !leftOut.includes(channel.group) && (extent === 'full' || channel.key),
  );
  const junctions = junctionsOf(walked, draft, input.settings);
  const read = walked.map((history) => itemOf(history, input, junctions));
  const items = read.map((item) => summed(item, read));
  return {
    items,
    leftOut,
    done: items.filter((i) => i.done).length,
    at_ms,
    planned: plannedAt(heat, at_ms),
    rows: items.map((i) => ({ channel: i.channel.id, value: i.value, state: i.state })),
  };
}

/** The channels as the log has them, with the sensors that this round puts in the place of others. */
function channelsWith(known: readonly ChannelHistory[], draft: RoundDraft): ChannelHistory[] {
  return known.flatMap((history) => {
    const name = draft.replaced[history.channel.id];
    if (name === undefined) return [history];
    const fresh: ChannelHistory = {
      channel: { ...history.channel, id: name },
      readings: [],
      state: 'good',
      since_ms: null,
      reason: null,
      substitute: null,
      replacedBy: null,
    };
    return [{ ...history, state: 'replaced' as const, replacedBy: name }, fresh];
  });
}

/** Groups that no full round of the heat has read, e.g. those in cores while there are none; none before the first. */
function groupsLeftOut(view: View, heat: Heat): string[] {
  const full = heat.walked.filter((r) => r.body.extent === 'full');
  if (full.length === 0) return [];
  const read = new Set(full.flatMap((r) => r.body.readings.map((row) => row.channel)));
  const groups = new Map<string, boolean>();
  for (const { channel } of channelsOf(view, heat))
    groups.set(channel.group, (groups.get(channel.group) ?? false) || read.has(channel.id));
  return [...groups].filter(([, was]) => !was).map(([group]) => group);
}

/** Reference junctions by channel, °C: of this round, else of the last. */
function junctionsOf(walked: readonly ChannelHistory[], draft: RoundDraft, settings: Settings): Map<string, number> {
  return new Map(
    walked
      .filter((h) => h.channel.group === 'RJ')
      .flatMap((h): [string, number][] => {
        const typed = draft.texts[h.channel.id];
        const read = typed && readFigure(typed.text, typed.unit || settings.temperatureUnit, '°C');
        const value = read && 'typed' in read ? read.typed.value : lastValue(h);
        return value === null ? [] : [[h.channel.id, value]];
      }),
  );
}

/** The last figure of a channel in the heat. */
export const lastValue = (history: ChannelHistory): number | null =>
  history.readings.findLast((r) => r.row.value !== null)?.row.value ?? null;

/** The unit that a channel is typed in: as in this round, else as it was last, else the tablet's. */
function unitOf(history: ChannelHistory, { draft, settings }: WalkInput): string {
  const { channel } = history;
  const type = thermocoupleType(channel);
  if (type === null) return typingUnit(channel.unit, settings);
  const last = history.readings.findLast((r) => r.row.typed !== undefined)?.row.typed?.unit;
  return draft.units[type] ?? (last === EMF ? EMF : typingUnit(channel.unit, settings));
}

function itemOf(history: ChannelHistory, input: WalkInput, junctions: ReadonlyMap<string, number>): WalkItem {
  const { draft } = input;
  const { channel } = history;
  const said = draft.said[channel.id];
  const typed = draft.texts[channel.id];
  const text = typed?.text ?? '';
  const unit = text === '' ? unitOf(history, input) : typed!.unit;
  const before = history.state === 'replaced' ? 'good' : history.state;
  // A figure typed at a dead channel says that it lives again, unless this round says otherwise.
  const state = said?.state ?? (before === 'dead' && text !== '' ? 'good' : before);
  const read = text === '' || state === 'dead' ? null : readChannel(channel, text, unit, junctions);
  const value = read && 'value' in read ? read.value : null;
  return {
    channel,
    history,
    state,
    reason: state === 'good' ? null : (said?.reason ?? history.reason),
    substitute: state === 'dead' ? (said ? said.substitute : history.substitute) : null,
    text,
    unit,
    value,
    fault: read && 'fault' in read ? read.fault : null,
    junction_C: read && 'junction_C' in read ? read.junction_C : null,
    summed: false,
    done: state === 'dead' || value !== null,
    replaces: Object.entries(draft.replaced).find(([, name]) => name === channel.id)?.[0] ?? null,
  };
}

type ReadChannel = { value: number; junction_C: number | null } | { fault: string };

/** Reads the text of a channel; an emf is brought to °C with its reference junction. Nothing is refused for its size. */
export function readChannel(
  channel: Channel,
  text: string,
  unit: string,
  junctions: ReadonlyMap<string, number>,
): ReadChannel {
  const read = readFigure(text, unit, unit === EMF ? EMF : channel.unit);
  if ('fault' in read) return read;
  const { value } = read.typed;
  if (unit !== EMF) return { value, junction_C: null };
  const junction = junctionOf(channel);
  const junction_C = junctions.get(junction);
  if (junction_C === undefined)
    return { fault: `An emf needs its reference junction: read ${junction} first, or type °C.` };
  try {
    const input = { type: thermocoupleType(channel)!, emf_mV: value, reference_junction_C: junction_C };
    return { value: Number(thermocouple.compute(input).temperature_C!.toFixed(1)), junction_C };
  } catch (error) {
    if (!(error instanceof RefusedInput)) throw error;
    return {
      fault: `${text} mV cannot come from a type ${channel.type} thermocouple with ${junction} at ${junction_C.toFixed(1)} °C.`,
    };
  }
}

/** The sum of the heater zones is worked out where all of them are read. */
function summed(item: WalkItem, items: readonly WalkItem[]): WalkItem {
  if (item.channel.group !== 'HZ-sum' || item.text !== '') return item;
  const zones = items.filter((i) => i.channel.group === 'HZ');
  if (zones.length === 0 || zones.some((z) => z.value === null)) return item;
  const value = Number(zones.reduce((sum, z) => sum + z.value!, 0).toFixed(1));
  return { ...item, value, summed: true, done: true };
}

/** Channels of the furnace and the mould that the plan's temperature is compared with. */
export const followsPlan = (channel: Channel): boolean =>
  isTemperature(channel) && !['RJ', 'BD', 'FB'].includes(channel.group);

/** What stands beside the field of a channel. */
export interface Beside {
  readonly last: number | null;
  readonly last_ms: number | null;
  readonly planned_C: number | null;
  readonly deviation_K: number | null;
  readonly rate_K_h: number | null;
  /** It is held to the band. */
  readonly control: boolean;
  readonly jump: Jump | null;
}

export function besideOf({ view, heat }: WalkInput, walk: Walk, item: WalkItem): Beside {
  const { channel, history, value } = item;
  const before = history.readings.findLast((r) => r.row.value !== null);
  const planned_C = followsPlan(channel) ? walk.planned.planned_C : null;
  const points = history.readings.map((r) => ({ at_ms: r.at_ms, value: r.row.value }));
  return {
    last: before?.row.value ?? null,
    last_ms: before?.at_ms ?? null,
    planned_C,
    deviation_K: planned_C === null || value === null ? null : value - planned_C,
    rate_K_h: isTemperature(channel) ? rateOver([...points, { at_ms: walk.at_ms, value }], walk.at_ms) : null,
    control: isControl(heat.plan, channel),
    jump: jumpAt(view, heat, walk, item),
  };
}

/** A jump that neither plan nor neighbours explain. */
function jumpAt(view: View, heat: Heat, walk: Walk, item: WalkItem): Jump | null {
  const { channel, history, value, text, unit, junction_C } = item;
  const before = history.readings.findLast((r) => r.row.value !== null);
  if (value === null || !before || !isTemperature(channel) || item.state !== 'good') return null;
  const moved = (i: WalkItem) => {
    const last = i.history.readings.find((r) => r.at_ms === before.at_ms)?.row.value;
    return i.value === null || last === null || last === undefined ? [] : [i.value - last];
  };
  const neighbours = new Set(neighboursOf(view.plan.channels, channel).map((c) => c.id));
  return jumpOf({
    text,
    value,
    last: before.row.value!,
    planned_K: followsPlan(channel) ? walk.planned.planned_C - plannedAt(heat, before.at_ms).planned_C : 0,
    neighbours_K: walk.items.filter((i) => neighbours.has(i.channel.id) && i.state === 'good').flatMap(moved),
    read: (other) => {
      const again = readChannel(
        channel,
        other,
        unit,
        new Map(junction_C === null ? [] : [[junctionOf(channel), junction_C]]),
      );
      return 'value' in again ? again.value : null;
    },
  });
}

/** The rows of a round as they are kept: what was typed stands beside the value; channels not read are left out. */
export function rowsToKeep(heat: Heat, walk: Walk): RoundRow[] {
  return walk.items
    .filter((i) => i.done)
    .map(({ channel, state, text, unit, value, reason, substitute, junction_C, replaces, ...item }): RoundRow => {
      const typed = Number(
        text
          .replace(/[\s\u00a0\u2009\u202f]/g, '')
          .replace(',', '.')
          .replace('\u2212', '-'),
      );
      return {
        channel: channel.id,
        ...(text === '' || state === 'dead' || item.summed
          ? {}
          : { typed: { text, unit, value: unit === EMF ? typed : value! } }),
        value: state === 'dead' ? null : value,
        state,
        ...(isControl(heat.plan, channel) ? { planned: Number(walk.planned.planned_C.toFixed(1)) } : {}),
        ...(reason && state !== 'good' ? { words: reason } : {}),
        ...(substitute ? { substitute } : {}),
        ...(junction_C === null ? {} : { junction_C }),
        ...(replaces ? { replaces } : {}),
      };
    });
}

/** The next channel to read behind one, round the end; null when all are done. */
export function nextOpen(walk: Walk, at: string): WalkItem | null {
  const index = walk.items.findIndex((i) => i.channel.id === at);
  const order = [...walk.items.slice(index + 1), ...walk.items.slice(0, index)];
  return order.find((i) => !i.done) ?? null;
}
