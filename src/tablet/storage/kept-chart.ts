/**
 * The chart of all heats as it stood when the log had rested, thinned to what a screen shows: drawn at a start before
 * the log is read. It says for which log it was made, and for another it is none.
 */
export interface KeptChart {
  readonly casting: string;
  readonly stamp: string;
  readonly kept_ms: number;
  /** The group of channels that the chart opens with. */
  readonly group: string;
  /** From the first heat or sample to the last. */
  readonly from_ms: number;
  readonly to_ms: number;
  /** Equal columns from `from_ms` on. */
  readonly column_ms: number;
  readonly lines: readonly KeptLine[];
  readonly heats: readonly (readonly {
    readonly at_ms: number;
    readonly planned_C: number;
    readonly band_K: number;
  }[])[];
  readonly marks: readonly { readonly at_ms: number; readonly kind: 'hold' | 'finding' }[];
}

export interface KeptLine {
  readonly name: string;
  /** Column, least and greatest value, one after the other; two nulls for a gap. */
  readonly columns: readonly (number | null)[];
}

const KEY = 'kept chart';

/** In the browser's synchronous storage, which answers before a database is open. */
export function readKeptChart(casting: string, stamp: string): KeptChart | null {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? 'null') as KeptChart | null;
    return kept?.casting === casting && kept.stamp === stamp ? kept : null;
  } catch {
    return null;
  }
}

export const putKeptChart = (kept: KeptChart): void => localStorage.setItem(KEY, JSON.stringify(kept));

/** Whether this tablet shows the chart now and then, so that it is worth keeping. */
export const chartIsUsed = (): boolean => localStorage.getItem(KEY) !== null;
