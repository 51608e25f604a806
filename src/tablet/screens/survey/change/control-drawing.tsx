import { formatFigure } from '../../../parts/format-figure.ts';
import type { ChangeFacts } from './change-facts.ts';

interface Props {
  readonly values: readonly number[];
  readonly labels: readonly string[];
  readonly facts: ChangeFacts;
  readonly decimals: number;
  readonly unit: string;
}

const [WIDTH, HEIGHT, LEFT, RIGHT, EDGE] = [960, 260, 8, 132, 22];

/** Single values in order, with their mean and the limits that their own scatter sets; a ring marks a signal. */
export function ControlDrawing({ values, labels, facts, decimals, unit }: Props) {
  const { mean, lower, upper, signals, outlier } = facts;
  const low = Math.min(lower, facts.lowest);
  const high = Math.max(upper, facts.highest);
  const span = high - low || 1;
  const x = (i: number) => LEFT + ((i + 0.5) / values.length) * (WIDTH - LEFT - RIGHT);
  const y = (value: number) => HEIGHT - EDGE - ((value - low) / span) * (HEIGHT - 2 * EDGE);
  const levels = [
    { at: upper, name: 'upper limit', kind: 'change-limit' },
    { at: mean, name: 'mean', kind: 'change-mean' },
    { at: lower, name: 'lower limit', kind: 'change-limit' },
  ];
  const at = (draw: (i: number) => string) => values.map((_, i) => draw(i)).join('');
  const spot = (i: number) => `${x(i).toFixed(1)} ${y(values[i]!).toFixed(1)}`;
  const marked = (i: number) => signals.has(i) || outlier === i;
  return (
    <svg class="change-drawing" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={spoken(labels, facts)}>
      {levels.map(({ at, name, kind }) => (
        <g key={name}>
          <line class={kind} x1={LEFT} x2={WIDTH - RIGHT} y1={y(at)} y2={y(at)} />
          <text class="change-text" x={WIDTH - RIGHT + 6} y={y(at) + 5}>
            {formatFigure(at, { decimals, signed: true })} {unit}
          </text>
        </g>
      ))}
      <polyline class="change-line" points={at((i) => `${spot(i)} `)} />
      {/* One path for all points and one for all rings: thousands of elements would hold the screen up. */}
      <path class="change-points" stroke-width={values.length > 120 ? 4 : 7} d={at((i) => `M${spot(i)}h0`)} />
      <path class="change-ring" d={at((i) => (marked(i) ? ringAt(x(i), y(values[i]!)) : ''))} />
    </svg>
  );
}

const RING = 9;

const ringAt = (x: number, y: number): string =>
  `M${(x - RING).toFixed(1)} ${y.toFixed(1)}a${RING} ${RING} 0 1 0 ${2 * RING} 0a${RING} ${RING} 0 1 0 ${-2 * RING} 0`;

const spoken = (labels: readonly string[], { count, signals }: ChangeFacts): string =>
  signals.size === 0
    ? `${count} changes in order, none gives a signal`
    : `${count} changes in order; signals at ${[...signals.keys()].map((i) => labels[i]).join(', ')}`;
