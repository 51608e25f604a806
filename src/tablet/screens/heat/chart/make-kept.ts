import { loggerFiles } from '../../../../../shared/logbook/state/logger-files.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import type { TimeGrid } from '../../../../../shared/logger/columns.ts';
import type { CastingDatabase } from '../../../storage/database.ts';
import type { KeptChart } from '../../../storage/kept-chart.ts';
import { samplesId } from '../../../storage/logger/kept-files.ts';
import { SampleSource } from '../../../storage/logger/sample-source.ts';
import { heatsBegun, linesOf, marksOf, openingGroup, wholeStretch } from './heat-content.ts';
import { planCorners } from './heat-outline.ts';
import { keptLine } from './kept-lines.ts';

/** About as many as a tablet's plot has pixels. */
const COLUMNS = 700;

/** The chart as it opens, thinned; null while there is nothing to draw. */
export async function makeKept(
  view: View,
  db: CastingDatabase,
  stamp: string,
  now_ms: number,
): Promise<KeptChart | null> {
  const whole = wholeStretch(view, now_ms);
  const group = openingGroup(view);
  if (!whole || group === null) return null;
  let read = () => {};
  const source = new SampleSource(db, () => read());
  const ids = loggerFiles(view).map(({ body }) => samplesId(body.file.hash, body.mapping));
  const files = (await source.files(ids)).filter((f) => f !== undefined);
  const lines = linesOf(view, group, source, files);
  const grid: TimeGrid = { ...whole, column_ms: (whole.to_ms - whole.from_ms) / COLUMNS, columns: COLUMNS };
  for (const line of lines) line.columns(grid);
  while (source.pending > 0)
    await new Promise<void>((resolve) => {
      read = resolve;
    });
  return {
    casting: db.casting,
    stamp,
    kept_ms: now_ms,
    group,
    from_ms: whole.from_ms,
    to_ms: whole.to_ms,
    column_ms: grid.column_ms,
    lines: lines.map((line) => keptLine(line.name, line.columns(grid))),
    heats: heatsBegun(view).map(planCorners),
    marks: marksOf(view).map(({ at_ms, kind }) => ({ at_ms, kind })),
  };
}
