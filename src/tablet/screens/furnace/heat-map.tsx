import { meansOf } from '../../../../shared/logbook/state/channels.ts';
import { hourAt, plannedAtHours, segmentEnds, segmentWords } from '../../../../shared/logbook/state/heat.ts';
import { type Heat, roundsNow } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { dayNumber } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { chartScale, lineOf, thin } from './chart-scale.ts';
import { lastStretch, NowLine } from './off-plan.tsx';

const HOUR_MS = 3_600_000;
const BOX = { left: 46, right: 746, top: 10, bottom: 112 };

/** The whole heat as a map: the plan, its band, the mean of the control channels, missed rounds, where we are. */
export function HeatMap({ view, heat, now_ms }: { view: View; heat: Heat; now_ms: number }) {
  const { plan, start_ms, planEnds_ms } = heat;
  const ends = segmentEnds(plan);
  // Just before each end the segment's own band holds, from the end on the next one's.
  const hours = ends.flatMap((end, i) => [i === 0 ? 0 : ends[i - 1]!, end - 1e-6]);
  const points = plannedAtHours(plan, hours);
  const at = (hour: number) => start_ms + hour * HOUR_MS;
  const high = Math.max(...points.map((p) => p.planned_C)) * 1.08;
  const scale = chartScale({ ...BOX, from_ms: start_ms, to_ms: planEnds_ms, low: 0, high });
  const edge = (sign: 1 | -1) =>
    points.map((p) => ({ at_ms: at(p.hour), value: Math.max(0, p.planned_C + sign * p.band_K) }));
  const mean = meansOf(view, heat, plan.control);
  const stretch = lastStretch(heat, now_ms);
  const { missed } = roundsNow(heat, now_ms);
  const hour = hourAt(heat, now_ms);
  const step = high > 700 ? 400 : high > 300 ? 200 : 50;
  return (
    <Sheet
      class="heat-map"
      title="Whole heat"
      beside={`${plan.id}, ${plan.segments.length} segments`}
      aside={
        <span>
          hour <b class="n">{hour.toFixed(1)}</b> of <span class="n">{ends.at(-1)!.toFixed(1)}</span>
        </span>
      }
    >
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls sideways on a phone, and keys must reach it */}
      <div class="chart-scroll" tabIndex={0}>
        <svg
          viewBox="0 0 760 142"
          class="chart"
          role="img"
          aria-label={`The whole heat: ${plan.segments.map((_, i) => segmentWords(plan, i + 1)).join(', ')}. ${missed.length} rounds missed.`}
        >
          {levels(high, step).map((t) => (
            <g key={t}>
              <line class="chart-grid" x1={BOX.left} x2={BOX.right} y1={scale.y(t)} y2={scale.y(t)} />
              <text class="chart-text" x={BOX.left - 6} y={scale.y(t) + 4} text-anchor="end">
                {t}
              </text>
            </g>
          ))}
          <Days view={view} heat={heat} x={scale.x} />
          <rect
            class="chart-window"
            x={scale.x(stretch.from_ms)}
            width={Math.max(2, scale.x(stretch.to_ms) - scale.x(stretch.from_ms))}
            y={BOX.top}
            height={BOX.bottom - BOX.top}
          />
          <polygon class="chart-band" points={`${lineOf(edge(1), scale)} ${lineOf(edge(-1).reverse(), scale)}`} />
          <polyline
            class="chart-plan"
            points={lineOf(
              points.map((p) => ({ at_ms: at(p.hour), value: p.planned_C })),
              scale,
            )}
          />
          <g class="pen-1">
            <polyline
              class="chart-line"
              points={lineOf(
                thin(
                  mean.map((m) => ({ at_ms: m.at_ms, value: m.value })),
                  start_ms,
                  planEnds_ms,
                  BOX.right - BOX.left,
                ),
                scale,
              )}
            />
          </g>
          {missed.map((m) => (
            <path key={m.number} class="chart-missed" d={`M${scale.x(m.due_ms).toFixed(1)} ${BOX.bottom - 7}v7`} />
          ))}
          <NowLine x={scale.x(Math.min(planEnds_ms, Math.max(start_ms, now_ms)))} top={BOX.top} bottom={BOX.bottom} />
        </svg>
      </div>
    </Sheet>
  );
}

/** What `day 123` takes, with a space behind it. */
const LABEL_PX = 52;

const levels = (high: number, step: number): number[] =>
  Array.from({ length: Math.floor(high / step) }, (_, i) => (i + 1) * step);

/** Days of the casting, where they begin on the local clock. */
function Days({ view, heat, x }: { view: View; heat: Heat; x: (at_ms: number) => number }) {
  const { timeZone, dayOne } = view.genesis;
  const days: { at_ms: number; day: number }[] = [];
  for (let at_ms = heat.start_ms; at_ms <= heat.planEnds_ms; at_ms += HOUR_MS) {
    const day = dayNumber(new Date(at_ms), dayOne, timeZone);
    if (days.at(-1)?.day !== day) days.push({ at_ms, day });
  }
  const every = Math.ceil(days.length / 9);
  const hasRoom = (i: number) => x(days[i + 1]?.at_ms ?? heat.planEnds_ms) - x(days[i]!.at_ms) > LABEL_PX;
  return (
    <g>
      {days.map(({ at_ms, day }, i) => (
        <g key={day}>
          {i > 0 && <line class="chart-grid" x1={x(at_ms)} x2={x(at_ms)} y1={BOX.top} y2={BOX.bottom} />}
          {i % every === 0 && hasRoom(i) && (
            <text class="chart-text" x={x(at_ms) + 3} y={BOX.bottom + 27}>
              day {day}
            </text>
          )}
        </g>
      ))}
    </g>
  );
}
