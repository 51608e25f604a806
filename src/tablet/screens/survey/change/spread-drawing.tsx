import { formatFigure } from '../../../parts/format-figure.ts';
import { binsOf } from './change-facts.ts';

interface Props {
  readonly values: readonly number[];
  readonly decimals: number;
  readonly unit: string;
}

const [WIDTH, HEIGHT, FOOT, TOP] = [640, 190, 34, 24];

/** How the changes are spread: a bar for each step, its count above it. */
export function SpreadDrawing({ values, decimals, unit }: Props) {
  const bins = binsOf(values);
  const most = Math.max(...bins.map((b) => b.count));
  const width = WIDTH / bins.length;
  const y = (count: number) => HEIGHT - FOOT - (count / most) * (HEIGHT - FOOT - TOP);
  const figure = (value: number) => formatFigure(value, { decimals, signed: true });
  return (
    <svg
      class="change-drawing"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={bins.map((b) => `${b.count} from ${figure(b.from)} to ${figure(b.to)} ${unit}`).join('; ')}
    >
      {bins.map((bin, i) => (
        <g key={bin.from}>
          <rect
            class="spread-bar"
            x={i * width + 1.5}
            y={y(bin.count)}
            width={Math.max(1, width - 3)}
            height={HEIGHT - FOOT - y(bin.count)}
          />
          {bin.count > 0 && (
            <text class="change-text" x={(i + 0.5) * width} y={y(bin.count) - 6} text-anchor="middle">
              {bin.count}
            </text>
          )}
        </g>
      ))}
      <line class="change-axis" x1="0" x2={WIDTH} y1={HEIGHT - FOOT} y2={HEIGHT - FOOT} />
      <text class="change-text" x="2" y={HEIGHT - 10}>
        {figure(bins[0]!.from)}
      </text>
      <text class="change-text" x={WIDTH - 2} y={HEIGHT - 10} text-anchor="end">
        {figure(bins.at(-1)!.to)} {unit}
      </text>
    </svg>
  );
}
