import { heatPlan } from '../calculations/heat-plan.ts';
import { isTemperature } from '../logbook/state/channels.ts';
import { type LoggerMapping, OWN_OFFSET } from '../logger/mapping.ts';
import { heatPlanInput } from '../plan/heat-plan-hours.ts';
import type { Channel, HeatPlan, Plan } from '../plan/schema.ts';
import { annealing, castingTemperature, type Following, following } from './casting-channels.ts';
import { type FurnaceMoment, preheatLogged } from './preheat-channels.ts';
import { randomOf } from './random.ts';
import { HOUR_MS, MINUTE_MS } from './timetable.ts';

/** A heat as it was run. */
export interface RunHeat {
  readonly plan: HeatPlan;
  readonly start_ms: number;
  readonly end_ms: number;
}

/** A logger's file, and how its columns are read. */
export interface LoggerRecord {
  readonly name: string;
  readonly text: string;
  readonly mapping: LoggerMapping;
  readonly rows: number;
  readonly from_ms: number;
  readonly to_ms: number;
}

const STEP_MS = 15 * MINUTE_MS;
/** The logger shows less scatter than a person's glance at a readout. */
const NOISE_SHARE = 0.4;

/**
 * What the furnace's logger recorded of a heat, every quarter of an hour, on all temperature channels that live in it.
 * It follows the same furnace as the rounds do. Made when it is asked for, the same for the same seed.
 */
export function loggerRecord(seed: string, plan: Plan, heat: RunHeat): LoggerRecord {
  const { normal } = randomOf(seed, `logger ${heat.plan.id}`);
  const shows = shownBy(heat.plan.id);
  const channels = plan.channels.filter((c) => isTemperature(c) && shows(c, { hour: 0, planned_C: 20, rate_K_h: 0 }));
  const rows = Math.floor((heat.end_ms - heat.start_ms) / STEP_MS);
  const hours = Array.from({ length: rows }, (_, i) => (i * STEP_MS) / HOUR_MS);
  const { points } = heatPlan.compute(heatPlanInput(heat.plan, hours));
  const lines = [`time,${channels.map((c) => `${c.id} [degC]`).join(',')}`];
  for (const [i, hour] of hours.entries()) {
    const moment = { hour, ...points[i]! };
    const cells = channels.map((channel) => {
      const shown = shows(channel, moment);
      return shown?.value === undefined || shown.value === null
        ? ''
        : (shown.value + NOISE_SHARE * shown.noise * normal()).toFixed(1);
    });
    lines.push(`${new Date(heat.start_ms + i * STEP_MS).toISOString().slice(0, 19)}Z,${cells.join(',')}`);
  }
  return {
    name: `practice-${heat.plan.id}.csv`,
    text: `${lines.join('\n')}\n`,
    rows,
    from_ms: heat.start_ms,
    to_ms: heat.start_ms + (rows - 1) * STEP_MS,
    mapping: {
      encoding: 'utf-8',
      delimiter: ',',
      decimalMark: '.',
      headerLine: 1,
      time: { column: 0, order: 'ymd', zone: OWN_OFFSET },
      columns: channels.map((c, i) => ({ column: i + 1, name: `${c.id} [degC]`, channel: c.id, unit: '°C' })),
    },
  };
}

/** What a channel shows without scatter; a value of null for a wire that is broken, and nothing where it does not live. */
type Shown = (channel: Channel, moment: FurnaceMoment) => { value: number | null; noise: number } | null;

function shownBy(heat: string): Shown {
  if (heat === 'P1') return preheatLogged;
  const ways: Following = heat === 'P4' || heat === 'P5' ? annealing : following;
  return (channel, moment) => {
    const way = ways[channel.group];
    return way ? { value: castingTemperature(moment, way), noise: way.noise } : null;
  };
}
