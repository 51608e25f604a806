import { useMemo, useState } from 'preact/hooks';
import { type ChannelHistory, channelsOf, isTemperature, meansOf } from '../../../../shared/logbook/state/channels.ts';
import { groupName } from '../../../../shared/logbook/state/group-name.ts';
import { hourAt, plannedAt, plannedAtHours, segmentEnds } from '../../../../shared/logbook/state/heat.ts';
import type { Heat } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { clockTime } from '../../app/time.ts';
import { formatFigure } from '../../parts/format-figure.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { type ChartPoint, type ChartScale, chartScale, lineOf, spreadLabels, thin } from './chart-scale.ts';
import { followsPlan } from './round-input.ts';

const HOUR_MS = 3_600_000;
const BOX = { left: 46, right: 690, top: 12, bottom: 262 };
/** Each pen has its own dash; the sixth line takes the first pen with the second dash, and so on. */
const PENS = [1, 2, 3, 4, 5] as const;
const DASHES = ['', '7 3', '2 3', '9 3 2 3', '12 4'];
const ALL = 'all groups';

/** What one pen draws. */
interface Pen {
  readonly name: string;
  /** Deviations from the plan, K. */
  readonly points: readonly ChartPoint[];
  readonly died: ChartPoint | null;
}

/** The stretch of time that the chart shows. */
export interface Stretch {
  readonly from_ms: number;
  readonly to_ms: number;
}

/** The last rounds magnified: twelve hours, or a day where rounds are hours apart. */
export function lastStretch(heat: Heat, now_ms: number): Stretch {
  const last = heat.walked.at(-1);
  const ended = heat.ended_ms !== null && last ? Date.parse(last.entry.observedAt) : now_ms;
  const to_ms = Math.max(heat.start_ms + HOUR_MS, Math.min(now_ms, ended));
  const every = heat.rounds.findLast((r) => r.due_ms <= to_ms)?.every_h ?? 1;
  return { from_ms: Math.max(heat.start_ms, to_ms - (every <= 1 ? 12 : 24) * HOUR_MS), to_ms };
}

/** How far off the plan the furnace runs: the deviation, magnified, with the band. */
export function OffPlan({ view, heat, now_ms }: { view: View; heat: Heat; now_ms: number }) {
  const [group, setGroup] = useState(ALL);
  const stretch = lastStretch(heat, now_ms);
  const groups = groupsOf(view, heat);
  const shown = groups.includes(group) ? group : ALL;
  const pens = useMemo(() => pensOf(view, heat, shown, groups), [view, heat, shown]);
  const hours = Math.round((stretch.to_ms - stretch.from_ms) / HOUR_MS);
  const planned = plannedAt(heat, stretch.to_ms);
  return (
    <Sheet
      class="off-plan"
      title="Off the plan"
      beside={`K, last ${hours} h, band ±${planned.band_K}`}
      aside={
        <label class="off-plan-group">
          <span class="hidden-text">Lines of</span>
          <select class="input" value={shown} onChange={(e) => setGroup(e.currentTarget.value)}>
            <option value={ALL}>Means of all groups</option>
            {groups.map((g) => (
              <option key={g} value={g}>
                {`${groupName(g)}, ${g}`}
              </option>
            ))}
          </select>
        </label>
      }
    >
      {pens.length === 0 ? (
        <div class="empty">
          <p>The lines begin with the first round.</p>
        </div>
      ) : (
        <Chart view={view} heat={heat} pens={pens} stretch={stretch} />
      )}
    </Sheet>
  );
}

const groupsOf = (view: View, heat: Heat): string[] => [
  ...new Set(
    channelsOf(view, heat).flatMap((h) =>
      followsPlan(h.channel) && h.readings.some((r) => r.row.value !== null) ? [h.channel.group] : [],
    ),
  ),
];

function pensOf(view: View, heat: Heat, group: string, groups: readonly string[]): Pen[] {
  if (group !== ALL) return channelsOf(view, heat).flatMap((h) => (h.channel.group === group ? penOf(heat, h) : []));
  return groups.map((g) => ({
    name: g,
    died: null,
    points: meansOf(view, heat, [g]).map((p) => ({ at_ms: p.at_ms, value: p.value - p.planned_C })),
  }));
}

function penOf(heat: Heat, history: ChannelHistory): Pen[] {
  if (!isTemperature(history.channel)) return [];
  const points = history.readings.flatMap(({ at_ms, row }) =>
    row.value === null ? [] : [{ at_ms, value: row.value - plannedAt(heat, at_ms).planned_C }],
  );
  if (points.length === 0) return [];
  const died = history.state === 'dead' || history.state === 'replaced' ? points.at(-1)! : null;
  return [{ name: history.channel.id, points, died }];
}

function Chart({ view, heat, pens, stretch }: { view: View; heat: Heat; pens: readonly Pen[]; stretch: Stretch }) {
  const { from_ms, to_ms } = stretch;
  const bands = bandsOf(heat, stretch);
  const high = 1.45 * Math.max(...bands.map((b) => b.band_K));
  const scale = chartScale({ ...BOX, from_ms, to_ms, low: -high, high });
  const held = (value: number) => Math.max(-high, Math.min(high, value));
  const lines = pens.map((pen) => {
    const inside = pen.points.filter((p) => p.at_ms >= from_ms && p.at_ms <= to_ms);
    return thin(inside, from_ms, to_ms, BOX.right - BOX.left).map((p) => ({ ...p, value: held(p.value) }));
  });
  const ends = lines.map((line) => (line.length === 0 ? BOX.bottom : scale.y(line.at(-1)!.value)));
  const labels = spreadLabels(ends, 14, BOX.top + 4, BOX.bottom);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls sideways on a phone, and keys must reach it
    <div class="chart-scroll" tabIndex={0}>
      <svg viewBox="0 0 760 292" class="chart" role="img" aria-label={chartWords(pens, stretch, view)}>
        <Grid scale={scale} stretch={stretch} band={high / 1.45} timeZone={view.genesis.timeZone} />
        {bands.map((b) => (
          <Band key={b.from_ms} scale={scale} {...b} />
        ))}
        <line class="chart-plan" x1={BOX.left} x2={BOX.right} y1={scale.y(0)} y2={scale.y(0)} />
        <text class="chart-text" x={BOX.left - 6} y={scale.y(0) + 4} text-anchor="end">
          plan
        </text>
        {pens.map((pen, i) => (
          <g key={pen.name} class={`pen-${PENS[i % PENS.length]}`}>
            <polyline
              class="chart-line"
              points={lineOf(lines[i]!, scale)}
              stroke-dasharray={DASHES[(i + Math.floor(i / PENS.length)) % DASHES.length]}
            />
            {lines[i]!.length === 1 && (
              <circle cx={scale.x(lines[i]![0]!.at_ms)} cy={scale.y(lines[i]![0]!.value)} r="3" fill="currentColor" />
            )}
            {lines[i]!.length > 0 && (
              <text class="chart-end" x={BOX.right + 6} y={labels[i]! + 4}>
                {pen.name}
              </text>
            )}
          </g>
        ))}
        {pens.map((pen) => (
          <Died key={pen.name} pen={pen} scale={scale} held={held} stretch={stretch} view={view} />
        ))}
        <NowLine x={scale.x(to_ms)} top={BOX.top - 6} bottom={BOX.bottom} />
      </svg>
    </div>
  );
}

/** The index: where we are in time. */
export function NowLine({ x, top, bottom }: { x: number; top: number; bottom: number }) {
  return (
    <g class="chart-now">
      <line x1={x} x2={x} y1={top} y2={bottom} />
      <path d={`M${x - 8} ${bottom + 11}h16l-8 -11z`} />
    </g>
  );
}

function Died(props: { pen: Pen; scale: ChartScale; held: (value: number) => number; stretch: Stretch; view: View }) {
  const { pen, scale, held, stretch, view } = props;
  if (!pen.died || pen.died.at_ms < stretch.from_ms) return null;
  const x = scale.x(pen.died.at_ms);
  const y = scale.y(held(pen.died.value));
  return (
    <g class="chart-died">
      <path d={`M${x - 5} ${y - 5}l10 10M${x + 5} ${y - 5}l-10 10`} />
      <text x={x + 9} y={y + 18}>
        {pen.name} dead after {clockTime(new Date(pen.died.at_ms), view.genesis.timeZone)}
      </text>
    </g>
  );
}

interface BandStep {
  readonly from_ms: number;
  readonly to_ms: number;
  readonly band_K: number;
}

/** The band of each segment in a stretch of time. */
function bandsOf(heat: Heat, { from_ms, to_ms }: Stretch): BandStep[] {
  const ends = [...segmentEnds(heat.plan).map((h) => heat.start_ms + h * HOUR_MS)];
  const cuts = [from_ms, ...ends.filter((e) => e > from_ms && e < to_ms), to_ms];
  const hours = cuts.slice(1).map((cut, i) => hourAt(heat, (cut + cuts[i]!) / 2));
  return plannedAtHours(heat.plan, hours).map(({ band_K }, i) => ({ from_ms: cuts[i]!, to_ms: cuts[i + 1]!, band_K }));
}

/** Half the hatch at an edge of the band, K: the guard of one type S thermocouple. */
const GUARD_K = 1;

function Band({ scale, from_ms, to_ms, band_K }: BandStep & { scale: ChartScale }) {
  const x = scale.x(from_ms);
  const width = scale.x(to_ms) - x;
  const edge = (at: number) => (
    <g key={at}>
      <rect
        class="chart-hatch"
        x={x}
        width={width}
        y={scale.y(at + GUARD_K)}
        height={scale.y(at - GUARD_K) - scale.y(at + GUARD_K)}
        fill="url(#hatch)"
      />
      <line class="chart-edge" x1={x} x2={x + width} y1={scale.y(at)} y2={scale.y(at)} />
    </g>
  );
  return (
    <>
      <rect class="chart-band" x={x} width={width} y={scale.y(band_K)} height={scale.y(-band_K) - scale.y(band_K)} />
      {edge(band_K)}
      {edge(-band_K)}
    </>
  );
}

function Grid(props: { scale: ChartScale; stretch: Stretch; band: number; timeZone: string }) {
  const { scale, stretch, band, timeZone } = props;
  const hours = (stretch.to_ms - stretch.from_ms) / HOUR_MS;
  const step_ms = (hours > 14 ? 4 : hours > 5 ? 2 : 1) * HOUR_MS;
  const first_ms = Math.ceil(stretch.from_ms / HOUR_MS) * HOUR_MS;
  const ticks = Array.from(
    { length: Math.max(0, Math.floor((stretch.to_ms - first_ms) / HOUR_MS) + 1) },
    (_, i) => first_ms + i * HOUR_MS,
  );
  const levels = [-band, -band / 2, band / 2, band];
  return (
    <g>
      {ticks.map((t) => (
        <line key={t} class="chart-grid" x1={scale.x(t)} x2={scale.x(t)} y1={BOX.top} y2={BOX.bottom} />
      ))}
      {ticks
        .filter((t) => (t - first_ms) % step_ms === 0 && scale.x(t) < BOX.right - 30)
        .map((t) => (
          <text key={t} class="chart-text" x={scale.x(t)} y={BOX.bottom + 20} text-anchor="middle">
            {clockTime(new Date(t), timeZone)}
          </text>
        ))}
      <text class="chart-text chart-when" x={BOX.right} y={BOX.bottom + 26} text-anchor="middle">
        {clockTime(new Date(stretch.to_ms), timeZone)}
      </text>
      {levels.map((k) => (
        <g key={k}>
          <line class="chart-grid" x1={BOX.left} x2={BOX.right} y1={scale.y(k)} y2={scale.y(k)} />
          <text class="chart-text" x={BOX.left - 6} y={scale.y(k) + 4} text-anchor="end">
            {formatFigure(k, { decimals: Number.isInteger(k) ? 0 : 1, signed: true })}
          </text>
        </g>
      ))}
    </g>
  );
}

function chartWords(pens: readonly Pen[], { from_ms, to_ms }: Stretch, view: View): string {
  const last = pens.flatMap((p) => {
    const point = p.points.findLast((q) => q.at_ms <= to_ms);
    return point ? [`${p.name} ${formatFigure(point.value, { decimals: 1, signed: true })} K`] : [];
  });
  const { timeZone } = view.genesis;
  return `Deviation from the plan, ${clockTime(new Date(from_ms), timeZone)} to ${clockTime(new Date(to_ms), timeZone)}. Last: ${last.join(', ')}.`;
}
