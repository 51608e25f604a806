import type { Clock } from '../../../shared/logbook/clock.ts';
import type { SegmentRow } from './database.ts';
import type { OutlinedLine } from './segments.ts';

/** Entries that came together and were checked, on their way into a segment of their own. */
export interface ReceivedRun {
  readonly row: SegmentRow;
  readonly lines: readonly OutlinedLine[];
  /** The latest of their clocks that does not run ahead of the wall. */
  readonly clock: Clock;
}
