import type { LineColumns, TimeGrid } from '../../../../../shared/logger/columns.ts';
import type { PlanCorner } from './planned-on.ts';

/** A line of the chart: the samples of one channel, and what people read of it in rounds. */
export interface ChartLine {
  readonly name: string;
  /** Whether a logger sampled it; else the line goes from round to round. */
  readonly sampled: boolean;
  /**
   * The samples in the columns of a grid.
   * @param into what is filled, so that a chart that moves makes nothing anew
   */
  readonly columns: (grid: TimeGrid, into?: LineColumns) => LineColumns;
  /** In the order in which they were read. */
  readonly readings: readonly { readonly at_ms: number; readonly value: number }[];
}

/** A mark on the time axis. */
export interface ChartMark {
  readonly at_ms: number;
  readonly kind: 'hold' | 'finding';
}

export interface Stretch {
  readonly from_ms: number;
  readonly to_ms: number;
}

export interface ChartContent {
  readonly lines: readonly ChartLine[];
  readonly heats: readonly (readonly PlanCorner[])[];
  readonly marks: readonly ChartMark[];
  readonly now_ms: number;
}
