import { useMemo } from 'preact/hooks';
import { type Schedule, scheduleAt } from '../../../../shared/logbook/state/schedule.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { now } from '../../app/time.ts';

/** Dates are told in hours and days: they are worked out anew every five minutes, and when the log has grown. */
const STEP_MS = 300_000;

/** The casting in time as of these minutes. */
export function useSchedule(view: View): { schedule: Schedule; now_ms: number } {
  const now_ms = Math.floor(now.value.getTime() / STEP_MS) * STEP_MS;
  return useMemo(() => ({ schedule: scheduleAt(view, now_ms), now_ms }), [view, now_ms]);
}
