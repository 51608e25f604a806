import { channelsOf, isTemperature } from '../../../../../shared/logbook/state/channels.ts';
import { findings } from '../../../../../shared/logbook/state/findings.ts';
import { holdState } from '../../../../../shared/logbook/state/holds.ts';
import { loggerFiles } from '../../../../../shared/logbook/state/logger-files.ts';
import { type Heat, heatInWork, heatOf } from '../../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { LineColumns, levelFor } from '../../../../../shared/logger/columns.ts';
import type { Channel } from '../../../../../shared/plan/schema.ts';
import type { SampleFileRow } from '../../../storage/database.ts';
import type { KeptChart } from '../../../storage/kept-chart.ts';
import type { SampleSource } from '../../../storage/logger/sample-source.ts';
import type { ChartLine, ChartMark, Stretch } from './chart-content.ts';
import { fillKept, keptGrid } from './kept-lines.ts';

const DAY_MS = 86_400_000;

/** A mark with what it is about. */
export interface NamedMark extends ChartMark {
  readonly name: string;
  readonly words: string;
  readonly href: string;
}

/** The heats that were begun, in time. */
export const heatsBegun = (view: View): Heat[] =>
  view.plan.heatPlans.flatMap((plan) => heatOf(view, plan) ?? []).sort((a, b) => a.start_ms - b.start_ms);

/** When a heat ended, or where it is now. */
const endOf = (heat: Heat, now_ms: number): number =>
  heat.ended_ms ?? Math.max(heat.start_ms + DAY_MS / 24, Math.min(now_ms, heat.planEnds_ms));

/** From the first heat or sample to the last; null while there is nothing to draw. */
export function wholeStretch(view: View, now_ms: number): Stretch | null {
  const spans = [
    ...heatsBegun(view).map((h) => [h.start_ms, endOf(h, now_ms)] as const),
    ...loggerFiles(view).map(({ body }) => [Date.parse(body.from), Date.parse(body.to)] as const),
  ];
  if (spans.length === 0) return null;
  const from_ms = Math.min(...spans.map(([from]) => from));
  return { from_ms, to_ms: Math.max(from_ms + DAY_MS / 24, ...spans.map(([, to]) => to)) };
}

/** A heat that was begun, or else the one that runs or was the last, from its start to its end or to now. */
export function heatStretch(view: View, now_ms: number, id?: string): Stretch | null {
  const heat = heatsBegun(view).find((h) => h.plan.id === id) ?? heatInWork(view);
  return heat && { from_ms: heat.start_ms, to_ms: endOf(heat, now_ms) };
}

/** Groups of temperature channels, in walking order. */
export const groupsOf = (view: View): string[] => [
  ...new Set(view.plan.channels.filter((c) => isTemperature(c)).map((c) => c.group)),
];

/** The group that the chart opens with: what a heat, or else the one in work, is controlled by. */
export function openingGroup(view: View, id?: string): string | null {
  const heat = heatsBegun(view).find((h) => h.plan.id === id) ?? heatInWork(view);
  return heat?.plan.control[0] ?? groupsOf(view).at(-1) ?? null;
}

/**
 * The lines of a group: each channel's samples, and what was read of it in the rounds of all heats.
 * @param files null until the tablet has looked which are here
 * @param kept what stands in the place of samples that are not read yet
 */
export function linesOf(
  view: View,
  group: string,
  source: SampleSource,
  files: readonly SampleFileRow[] | null,
  kept: KeptChart | null = null,
): ChartLine[] {
  const heats = heatsBegun(view);
  return view.plan.channels
    .filter((c) => c.group === group && isTemperature(c))
    .map((channel) => {
      const readings = readingsOf(view, heats, channel);
      const own = (files ?? []).filter((f) => f.channels.includes(channel.id));
      const before = kept?.lines.find((line) => line.name === channel.id);
      return {
        name: channel.id,
        sampled: own.length > 0,
        readings,
        columns: (grid, into) => {
          const columns = into?.empty(grid) ?? new LineColumns(grid);
          let lacking = files === null;
          for (const file of own) {
            const wanted = levelFor(file.to_ms - file.from_ms, file.rows, file.levels, grid.column_ms);
            const level = source.level(file, channel.id, wanted);
            if (level) columns.add(level.times, level.values, file.gap_ms);
            else lacking = true;
          }
          if (lacking && kept && before) fillKept(columns, before, keptGrid(kept));
          else if (own.length === 0) addReadings(columns, readings);
          return columns;
        },
      };
    });
}

function readingsOf(view: View, heats: readonly Heat[], channel: Channel) {
  return heats.flatMap((heat) =>
    channelsOf(view, heat)
      .filter((h) => h.channel.id === channel.id)
      .flatMap((h) =>
        h.readings.flatMap(({ at_ms, row }) => (row.value === null ? [] : [{ at_ms, value: row.value }])),
      ),
  );
}

function addReadings(columns: LineColumns, readings: ChartLine['readings']): void {
  const at = Float64Array.from(readings, (r) => r.at_ms);
  const values = Float32Array.from(readings, (r) => r.value);
  columns.add({ from: at, to: at }, { least: values, greatest: values }, 2 * DAY_MS);
}

/** Hold points when they were last signed, findings when what caused them was seen. */
export function marksOf(view: View): NamedMark[] {
  const holds = view.plan.holds.flatMap((hold): NamedMark[] => {
    const { signatures, status } = holdState(view, hold);
    const at = signatures.map((s) => Date.parse(s.release.entry.observedAt));
    if (at.length === 0) return [];
    const words = status === 'in-doubt' ? 'in doubt' : status === 'released' ? 'released' : 'signed in part';
    return [{ at_ms: Math.max(...at), kind: 'hold', name: `${hold.id} ${hold.name}`, words, href: `/hold/${hold.id}` }];
  });
  const found = findings(view).flatMap((finding): NamedMark[] => {
    const at = finding.causes.flatMap((hash) => {
      const kept = view.log.get(hash);
      return kept ? [Date.parse(kept.entry.observedAt)] : [];
    });
    if (at.length === 0) return [];
    return [
      {
        at_ms: Math.min(...at),
        kind: 'finding',
        name: finding.title,
        words: `finding, ${finding.state}`,
        href: `/findings/${encodeURIComponent(finding.id)}`,
      },
    ];
  });
  return [...holds, ...found].sort((a, b) => a.at_ms - b.at_ms);
}
