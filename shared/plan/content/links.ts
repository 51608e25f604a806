import { CORES } from '../core-stations.ts';
import type { Operation } from '../schema.ts';

type Link = Operation['after'][number];

/** Starts when the other is finished, and the lag has passed. */
export const afterFinish = (id: string, lag_h = 0): Link => ({ id, type: 'FS', lag_h });
/** May start when the other has gone on for the lag. */
export const afterStart = (id: string, lag_h: number): Link => ({ id, type: 'SS', lag_h });
/** May finish when the other has been finished for the lag. */
export const finishAfter = (id: string, lag_h: number): Link => ({ id, type: 'FF', lag_h });

/** An item that may also be answered core by core. */
export const atCores = (text: string): SheetItem => ({ text, stations: CORES });

/** An item that says that a characteristic is read: its readings fill it. */
export const whenRead = (reads: string, text: string): SheetItem => ({ text, reads });

type SheetItem = string | { readonly text: string; readonly stations?: string; readonly reads?: string };

/** An operation as its sheet says it: stage and item numbers follow from the place, the common items are added. */
export type OperationSheet = Omit<Operation, 'stage' | 'checks' | 'sheetPer' | 'heatPlan' | 'rounds'> & {
  readonly checks: readonly SheetItem[];
  readonly sheetPer?: Operation['sheetPer'];
  readonly heatPlan?: string;
  readonly rounds?: string;
};
