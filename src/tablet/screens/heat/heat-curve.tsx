import { segmentEnds } from '../../../../shared/logbook/state/heat.ts';
import type { HeatPlan } from '../../../../shared/plan/schema.ts';
import { Sheet } from '../../parts/sheet.tsx';

const BOX = { left: 52, right: 740, top: 12, bottom: 190 };

/** The curve of a heat plan over its hours, with what it was before. */
export function HeatCurve({ plan, before }: { plan: HeatPlan; before: HeatPlan }) {
  const total = Math.max(segmentEnds(plan).at(-1)!, segmentEnds(before).at(-1)!);
  const all = [...cornersOf(plan), ...cornersOf(before)].map((c) => c.temperature_C);
  const high = Math.max(...all) + 1;
  const low = Math.min(0, ...all);
  const x = (hour: number) => BOX.left + (hour / total) * (BOX.right - BOX.left);
  const y = (t: number) => BOX.bottom - ((t - low) / (high - low)) * (BOX.bottom - BOX.top);
  const line = (p: HeatPlan) =>
    cornersOf(p)
      .map((c) => `${x(c.hour).toFixed(1)},${y(c.temperature_C).toFixed(1)}`)
      .join(' ');
  const changed = line(plan) !== line(before);
  const levels = ticks(low, high, 5);
  const hours = ticks(0, total, 6);
  return (
    <Sheet title="Curve" beside={changed ? 'solid as changed, dashed as it is in force' : 'as it is in force'}>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls sideways on a phone, and keys must reach it */}
      <div class="chart-scroll" tabIndex={0}>
        <svg viewBox="0 0 760 224" class="heat-curve" role="img" aria-label={wordsOf(plan)}>
          {levels.map((t) => (
            <g key={t}>
              <line class="curve-grid" x1={BOX.left} x2={BOX.right} y1={y(t)} y2={y(t)} />
              <text x={BOX.left - 6} y={y(t) + 4} text-anchor="end">
                {t}
              </text>
            </g>
          ))}
          {hours.map((h) => (
            <g key={h}>
              <line class="curve-grid" x1={x(h)} x2={x(h)} y1={BOX.top} y2={BOX.bottom} />
              <text x={x(h)} y={BOX.bottom + 18} text-anchor="middle">
                {h} h
              </text>
            </g>
          ))}
          {changed && <polyline class="curve-before" points={line(before)} />}
          <polyline class="curve-line" points={line(plan)} />
        </svg>
      </div>
    </Sheet>
  );
}

const cornersOf = (plan: HeatPlan) => [
  { hour: 0, temperature_C: plan.start_C },
  ...segmentEnds(plan).map((hour, i) => ({ hour, temperature_C: plan.segments[i]!.to_C })),
];

const wordsOf = (plan: HeatPlan): string =>
  `Heat plan ${plan.id} from ${plan.start_C} °C: ${cornersOf(plan)
    .slice(1)
    .map((c) => `${c.temperature_C} °C at ${c.hour.toFixed(1)} h`)
    .join(', ')}.`;

/** Round figures inside a range, about as many as asked. */
function ticks(low: number, high: number, about: number): number[] {
  const rough = (high - low) / about;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = ([1, 2, 5, 10].find((s) => s * power >= rough) ?? 10) * power;
  const first = Math.ceil(low / step);
  return Array.from({ length: Math.floor(high / step) - first + 1 }, (_, i) => (first + i) * step);
}
