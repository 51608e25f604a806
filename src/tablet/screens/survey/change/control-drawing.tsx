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
      <polyline class="change-line" points={values.map((v, i) => `${x(i)},${y(v)}`).join(' ')} />
      {values.map((v, i) => (
        <g key={labels[i]}>
          <circle class="change-point" cx={x(i)} cy={y(v)} r={values.length > 120 ? 2 : 3.5} />
          {marked(i) && <circle class="change-ring" cx={x(i)} cy={y(v)} r="9" />}
        </g>
      ))}
    </svg>
  );
}

const spoken = (labels: readonly string[], { count, signals }: ChangeFacts): string =>
  signals.size === 0
    ? `${count} changes in order, none gives a signal`
    : `${count} changes in order; signals at ${[...signals.keys()].map((i) => labels[i]).join(', ')}`;
