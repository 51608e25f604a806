import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Shown } from '../../app/units.ts';
import { formatFigure } from '../../parts/format-figure.ts';
import { PolarLegend, PolarPlot, type PolarSeries } from '../../parts/polar-plot.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { shownNow } from './shown.ts';
import { earlierSurvey, type StationItem, type Survey, type Wall } from './survey-of.ts';

/** The tub from above at the height that is worked on, with the earlier survey of the same height beside it. */
export function RoundSheet({
  view,
  survey,
  wall,
  item,
}: {
  view: View;
  survey: Survey;
  wall: Wall;
  item: StationItem;
}) {
  const { nominal, lower, upper } = item.limits;
  if (nominal === null || lower === null || upper === null) return null;
  const height = item.station.height_mm!;
  const units = shownNow(survey.characteristic);
  const diameters = wall.angles.every((angle) => angle < 180);
  const ring = ringAt(survey, height);
  const series = [lineOf(ring, `${height} mm`, 'a'), ...besides(view, survey, wall, height)];
  const marks = ring.flatMap(({ station, value, verdict, limits }) =>
    value !== null && (verdict === 'outside' || verdict === 'not-proven')
      ? [{ angle: station.angle_deg!, deviation: value - limits.nominal!, verdict }]
      : [],
  );
  const words = ringWords(ring, units);
  return (
    <Sheet class="round-sheet" title="Round" aside={<PolarLegend series={series} />}>
      <PolarPlot
        label={`Deviations at ${height} mm, magnified. ${words}`}
        lower={lower - nominal}
        upper={upper - nominal}
        guard={item.guard}
        series={series}
        marks={marks}
        chosen={item.station.angle_deg}
        diameters={diameters}
      />
      <p class="note pad">
        {words}
        <span class="round-limits">
          {' '}
          Limits {limitWords(units.span(lower - nominal), units.span(upper - nominal), units)}, magnified
          {diameters && '; a diameter is drawn at both ends'}.
        </span>
      </p>
    </Sheet>
  );
}

const limitWords = (lower: number, upper: number, { decimals, unit }: Shown): string =>
  Math.abs(lower + upper) < 1e-6
    ? `±${formatFigure(upper, { decimals })} ${unit}`
    : `${formatFigure(lower, { decimals, signed: true })} and ${formatFigure(upper, { decimals, signed: true })} ${unit}`;

const ringAt = ({ items }: Survey, height: number): StationItem[] =>
  items.filter((i) => i.station.height_mm === height).sort((a, b) => a.station.angle_deg! - b.station.angle_deg!);

const deviation = ({ value, limits }: StationItem): number | null =>
  value === null ? null : value - (limits.nominal ?? 0);

const lineOf = (ring: StationItem[], name: string, letter: string): PolarSeries => ({
  name,
  letter,
  points: ring.map((item) => ({ angle: item.station.angle_deg!, deviation: deviation(item) })),
});

/** The same height in the earlier survey; where there is none, the next height that has readings. */
function besides(view: View, survey: Survey, wall: Wall, height: number): PolarSeries[] {
  const earlier = earlierSurvey(view, survey);
  if (earlier) return [lineOf(ringAt(earlier, height), `in ${earlier.operation.id}`, 'b')];
  const other = wall.heights.find((h) => h !== height && ringAt(survey, h).some((i) => i.value !== null));
  return other === undefined ? [] : [lineOf(ringAt(survey, other), `${other} mm`, 'b')];
}

/** What is to be seen in the ring, in words. */
function ringWords(ring: StationItem[], { decimals, unit, span }: Shown): string {
  const measured = ring.flatMap((item) => (item.value === null ? [] : [{ item, by: span(deviation(item)!) }]));
  if (measured.length === 0) return 'Nothing is measured at this height yet.';
  const sorted = [...measured].sort((a, b) => a.by - b.by);
  const of = ({ item, by }: (typeof sorted)[number]) =>
    `${formatFigure(by, { decimals, signed: true })} at ${item.station.angle_deg}°`;
  const mean = measured.reduce((sum, m) => sum + m.by, 0) / measured.length;
  return `Mean ${formatFigure(mean, { decimals, signed: true })} ${unit}, least ${of(sorted[0]!)}, greatest ${of(sorted.at(-1)!)}.`;
}
