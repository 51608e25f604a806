import type { View } from '../../../../shared/logbook/state/view.ts';
import { plannedDays } from '../../../../shared/plan/planned-days.ts';

/** Where an operation's bar lies, as parts of the whole plan's length. */
export interface Bar {
  readonly start: number;
  readonly length: number;
}

/** The plan as a bar chart: earliest dates, in elapsed days from its first operation. */
export function plannedBars(view: View): { days: number; bars: ReadonlyMap<string, Bar> } {
  return view.memo.get('planned-bars', () => {
    const { duration, activities } = plannedDays(view.plan);
    const bars = Object.entries(activities).map(([id, dates]): [string, Bar] => [
      id,
      { start: dates.early_start / duration, length: (dates.early_finish - dates.early_start) / duration },
    ]);
    return { days: duration, bars: new Map(bars) };
  });
}
