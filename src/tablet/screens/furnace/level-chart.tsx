import type { MeltNow } from '../../../../shared/furnace/melt.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { clockTime } from '../../app/time.ts';
import type { Shown } from '../../app/units.ts';
import { formatFigure } from '../../parts/format-figure.ts';
import { type ChartPoint, chartScale, lineOf, spreadLabels } from './chart-scale.ts';
import { NowLine } from './off-plan.tsx';

const HOUR_MS = 3_600_000;
const BOX = { left: 62, right: 690, top: 12, bottom: 262 };
const DASHES = ['', '7 3', '2 3', '9 3 2 3'];
/** A curve is drawn on for so long, so that one sees where it goes. */
const AHEAD_MS = 1.5 * HOUR_MS;
const CURVE_POINTS = 80;
/** Room above and below, mm. */
const ROOM_MM = 1.5;

/** The levels at the ports, the curves through them, and the level that the load should give. */
export function LevelChart({ view, melt, shown, now_ms }: { view: View; melt: MeltNow; shown: Shown; now_ms: number }) {
  const read = melt.ports.filter((p) => p.points.length > 0);
  const all = read.flatMap((p) => p.points);
  const from_ms = Math.min(...all.map((p) => p.at_ms));
  const last_ms = Math.max(...all.map((p) => p.at_ms));
  const to_ms = Math.max(last_ms + AHEAD_MS, Math.min(now_ms, last_ms + 6 * HOUR_MS), from_ms + HOUR_MS);
  const { account } = melt;
  const band = account ? [account.expected_mm - account.limit_mm, account.expected_mm + account.limit_mm] : [];
  const levels = [...all.map((p) => p.level_mm), ...band];
  const scale = chartScale({
    ...BOX,
    from_ms,
    to_ms,
    low: Math.min(...levels) - ROOM_MM,
    high: Math.max(...levels) + ROOM_MM,
  });
  const lines = read.map((p): readonly ChartPoint[] =>
    p.curve
      ? Array.from({ length: CURVE_POINTS + 1 }, (_, k) => {
          const at_ms = p.points[0]!.at_ms + ((to_ms - p.points[0]!.at_ms) * k) / CURVE_POINTS;
          return { at_ms, value: p.curve!(at_ms) };
        })
      : p.points.map((q) => ({ at_ms: q.at_ms, value: q.level_mm })),
  );
  const labels = spreadLabels(
    lines.map((line) => scale.y(line.at(-1)!.value)),
    15,
    BOX.top + 4,
    BOX.bottom,
  );
  const { timeZone } = view.genesis;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls sideways on a phone, and keys must reach it
    <div class="chart-scroll" tabIndex={0}>
      <svg viewBox="0 0 760 292" class="chart" role="img" aria-label={chartWords(melt, shown)}>
        {steps(Math.min(...levels), Math.max(...levels)).map((mm) => (
          <g key={mm}>
            <line class="chart-grid" x1={BOX.left} x2={BOX.right} y1={scale.y(mm)} y2={scale.y(mm)} />
            <text class="chart-text" x={BOX.left - 6} y={scale.y(mm) + 4} text-anchor="end">
              {formatFigure(shown.value(mm), { decimals: shown.decimals })}
            </text>
          </g>
        ))}
        {hours(from_ms, to_ms).map((at_ms) => (
          <g key={at_ms}>
            <line class="chart-grid" x1={scale.x(at_ms)} x2={scale.x(at_ms)} y1={BOX.top} y2={BOX.bottom} />
            <text class="chart-text" x={scale.x(at_ms)} y={BOX.bottom + 20} text-anchor="middle">
              {clockTime(new Date(at_ms), timeZone)}
            </text>
          </g>
        ))}
        {account && (
          <>
            <rect
              class="chart-band"
              x={BOX.left}
              width={BOX.right - BOX.left}
              y={scale.y(band[1]!)}
              height={scale.y(band[0]!) - scale.y(band[1]!)}
            />
            {band.map((mm) => (
              <line key={mm} class="chart-edge" x1={BOX.left} x2={BOX.right} y1={scale.y(mm)} y2={scale.y(mm)} />
            ))}
            <line
              class="chart-plan"
              x1={BOX.left}
              x2={BOX.right}
              y1={scale.y(account.expected_mm)}
              y2={scale.y(account.expected_mm)}
            />
          </>
        )}
        {read.map((p, i) => (
          <g key={p.station.id} class={`pen-${i + 1}`}>
            <polyline
              class="chart-line"
              points={lineOf(lines[i]!, scale)}
              stroke-dasharray={DASHES[i % DASHES.length]}
            />
            {p.points.map((q) => (
              <circle key={q.reading.hash} cx={scale.x(q.at_ms)} cy={scale.y(q.level_mm)} r="3.2" fill="currentColor" />
            ))}
            <text class="chart-end" x={BOX.right + 6} y={labels[i]! + 4}>
              {p.station.label}
            </text>
          </g>
        ))}
        {now_ms >= from_ms && now_ms <= to_ms && <NowLine x={scale.x(now_ms)} top={BOX.top - 6} bottom={BOX.bottom} />}
      </svg>
    </div>
  );
}

/** Marks at a round pace, five or so. */
function steps(low: number, high: number): number[] {
  const step = [1, 2, 5, 10, 20].find((s) => (high - low) / s <= 7) ?? 50;
  const first = Math.ceil(low / step) * step;
  return Array.from({ length: Math.floor((high - first) / step) + 1 }, (_, k) => first + k * step);
}

function hours(from_ms: number, to_ms: number): number[] {
  const step_ms = (to_ms - from_ms > 9 * HOUR_MS ? 3 : 1) * HOUR_MS;
  const first = Math.ceil(from_ms / step_ms) * step_ms;
  return Array.from({ length: Math.max(0, Math.floor((to_ms - first) / step_ms) + 1) }, (_, k) => first + k * step_ms);
}

const chartWords = ({ ports, account }: MeltNow, shown: Shown): string =>
  [
    ...ports.map((p) => {
      const last = p.points.at(-1);
      const level = last
        ? `${formatFigure(shown.value(last.level_mm), { decimals: shown.decimals })} ${shown.unit}, `
        : '';
      return `${p.station.label}: ${level}${p.state}`;
    }),
    ...(account
      ? [
          `The load should give ${formatFigure(shown.value(account.expected_mm), { decimals: shown.decimals })} ${shown.unit}`,
        ]
      : []),
  ].join('. ');
