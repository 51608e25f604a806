import { columnMiddle, LineColumns, type TimeGrid } from '../../../../../shared/logger/columns.ts';
import type { KeptChart, KeptLine } from '../../../storage/kept-chart.ts';
import type { ChartContent, ChartLine } from './chart-content.ts';

/** Kept to a tenth of a kelvin: a pixel of the whole chart is more. */
const rounded = (value: number): number => Math.round(value * 10) / 10;

/** What is kept of a line. */
export function keptLine(name: string, { least, greatest }: LineColumns): KeptLine {
  const columns = least.flatMap((low, column) => {
    if (low === undefined) return [];
    return low === null ? [column, null, null] : [column, rounded(low), rounded(greatest[column]!)];
  });
  return { name, columns };
}

/** Puts what was kept of a line into the columns of another grid. */
export function fillKept(into: LineColumns, { columns }: KeptLine, grid: TimeGrid): void {
  const at: number[] = [];
  const least: number[] = [];
  const greatest: number[] = [];
  const gaps: number[] = [];
  for (let i = 0; i < columns.length; i += 3) {
    const at_ms = columnMiddle(grid, columns[i]!);
    const low = columns[i + 1]!;
    if (low === null) gaps.push(at_ms);
    else {
      at.push(at_ms);
      least.push(low);
      greatest.push(columns[i + 2]!);
    }
  }
  const times = Float64Array.from(at);
  const values = { least: Float32Array.from(least), greatest: Float32Array.from(greatest) };
  into.add({ from: times, to: times }, values, Number.POSITIVE_INFINITY);
  for (const at_ms of gaps) into.gapAt(at_ms);
}

/** The grid in which a chart was kept; how many columns it had says nothing any more. */
export const keptGrid = ({ from_ms, column_ms }: KeptChart): TimeGrid => ({ from_ms, column_ms, columns: 0 });

/** A kept chart as it is drawn. */
export function keptContent(kept: KeptChart): ChartContent {
  const lines = kept.lines.map(
    (line): ChartLine => ({
      name: line.name,
      sampled: true,
      readings: [],
      columns: (grid, into) => {
        const columns = into?.empty(grid) ?? new LineColumns(grid);
        fillKept(columns, line, keptGrid(kept));
        return columns;
      },
    }),
  );
  return { lines, heats: kept.heats, marks: kept.marks, now_ms: kept.kept_ms };
}
