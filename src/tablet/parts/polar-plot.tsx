import { Diamond } from './diamond.tsx';
import {
  bothEnds,
  CENTRE,
  LOWER_RADIUS,
  type PolarPoint,
  placeOf,
  polarPath,
  radiusOf,
  UPPER_RADIUS,
} from './polar-plot-scale.ts';
import type { Verdict } from './verdict.ts';
import './polar-plot.css';

/** The stations of one height. */
export type PolarSeries = {
  /** "500 mm". */
  name: string;
  /** One letter that stands at the end of its line. */
  letter: string;
  points: PolarPoint[];
};

export type PolarPlotProps = {
  /** What is drawn and what is to be seen in it, in words: all that a screen reader gets. */
  label: string;
  /** Limits as deviations from nominal, and the guard, in the unit of the points. */
  lower: number;
  upper: number;
  guard: number;
  series: PolarSeries[];
  /** The stations that matter most, with their verdicts. */
  marks: { angle: number; deviation: number; verdict: Verdict }[];
  /** The angle that is worked on, in degrees. */
  chosen?: number | null | undefined;
  /** Points are diameters, not radii: each is drawn at both ends. */
  diameters?: boolean | undefined;
};

const QUARTERS = [0, 90, 180, 270];

/** The tub from above, its deviations magnified so that the limits are two circles. */
export function PolarPlot(props: PolarPlotProps) {
  const { label, series, lower, upper, marks, chosen, diameters } = props;
  const spread = (points: PolarPoint[]) => (diameters ? bothEnds(points) : points);
  const radius = (deviation: number) => radiusOf(deviation, lower, upper);
  const ends = marks.flatMap((mark) => (diameters ? [mark, { ...mark, angle: mark.angle + 180 }] : [mark]));
  return (
    <div class="polar">
      <span class="hidden-text">{label}</span>
      {QUARTERS.map((angle) => (
        <span key={angle} class={`n polar-angle polar-${angle}`} aria-hidden="true">{`${angle}°`}</span>
      ))}
      <div class="polar-drawing" aria-hidden="true">
        <svg viewBox="0 0 300 300" width="100%" height="100%" aria-hidden="true">
          <Circles {...props} />
          <Graduation />
          {series.map(({ name, points }, i) => (
            <path key={name} class={`polar-line polar-line-${i}`} d={polarPath(spread(points), lower, upper)} />
          ))}
          {chosen !== null && chosen !== undefined && <Chosen angle={chosen} diameters={diameters ?? false} />}
          {ends.map(({ angle, deviation, verdict }) => {
            const [x, y] = placeOf(angle, radius(deviation));
            return <Diamond key={`${angle} ${deviation}`} half={6} x={x} y={y} verdict={verdict} halo />;
          })}
          <circle cx={CENTRE} cy={CENTRE} r="2.5" fill="var(--ink)" />
        </svg>
        {series.map((line) => (
          <EndLetter key={line.name} {...line} points={spread(line.points)} radius={radius} />
        ))}
      </div>
    </div>
  );
}

function Circles({ lower, upper, guard }: PolarPlotProps) {
  const band = 2 * guard * ((UPPER_RADIUS - LOWER_RADIUS) / (upper - lower));
  const at = { cx: CENTRE, cy: CENTRE };
  return (
    <>
      {[LOWER_RADIUS, UPPER_RADIUS].map((r) => (
        <g key={r}>
          <circle {...at} r={r} fill="none" stroke="url(#hatch)" stroke-width={Math.min(band, LOWER_RADIUS)} />
          <circle class="polar-limit" {...at} r={r} />
        </g>
      ))}
      {lower < 0 && upper > 0 && <circle class="polar-nominal" {...at} r={radiusOf(0, lower, upper)} />}
    </>
  );
}

function Graduation() {
  const mark = (i: number) => {
    const [x1, y1] = placeOf(5 * i, 149);
    const [x2, y2] = placeOf(5 * i, i % 3 ? 145 : 141);
    return `M${x1} ${y1}L${x2} ${y2}`;
  };
  return <path class="polar-ticks" d={Array.from({ length: 72 }, (_, i) => mark(i)).join('')} />;
}

function Chosen({ angle, diameters }: { angle: number; diameters: boolean }) {
  const [x1, y1] = placeOf(angle, 149);
  const [x2, y2] = diameters ? placeOf(angle + 180, 149) : [CENTRE, CENTRE];
  return <path class="polar-chosen" d={`M${x1} ${y1}L${x2} ${y2}`} />;
}

/** The letter stands at the last station measured, a little inside the line. */
function EndLetter({ letter, points, radius }: PolarSeries & { radius: (deviation: number) => number }) {
  const last = points.filter(({ deviation }) => deviation !== null).at(-1);
  if (!last) return null;
  const [x, y] = placeOf(last.angle + 5, radius(last.deviation!) - 8);
  return (
    <span class="polar-letter n" style={{ left: `${x / 3}%`, top: `${y / 3}%` }}>
      {letter}
    </span>
  );
}

/** Which line is which height, for the head of the sheet. */
export function PolarLegend({ series }: { series: PolarSeries[] }) {
  return (
    <span class="polar-legend note">
      {series.map(({ name, letter }, i) => (
        <span key={name}>
          <svg width="28" height="8" aria-hidden="true">
            <path class={`polar-line polar-line-${i}`} d="M0 4H28" />
          </svg>
          <b class="n">{letter}</b> {name}
        </span>
      ))}
    </span>
  );
}
